"""PNG (W3C, third edition; ISO/IEC 15948), indexed where it can be and never as a full plane."""

from guidekit.writers.png.writer import GuidesPngWriter, LayersPngWriter, PagePngWriter

__all__ = ["GuidesPngWriter", "LayersPngWriter", "PagePngWriter"]
