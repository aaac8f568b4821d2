"""PNG (W3C, third edition; ISO/IEC 15948), indexed where it can be and never as a full plane."""

from guidekit.writers.png.writer import (
    FullColourPngWriter,
    GuidesPngWriter,
    LayersPngWriter,
    PagePngWriter,
)

__all__ = ["FullColourPngWriter", "GuidesPngWriter", "LayersPngWriter", "PagePngWriter"]
