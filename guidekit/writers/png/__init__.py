"""PNG (W3C, third edition; ISO/IEC 15948), made from runs and never as a full plane."""

from guidekit.writers.png.writer import (
    GuidesPngWriter,
    LayersPngWriter,
    PagePngWriter,
    SmallPngWriter,
)

__all__ = ["GuidesPngWriter", "LayersPngWriter", "PagePngWriter", "SmallPngWriter"]
