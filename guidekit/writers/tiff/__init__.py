"""TIFF, revision 6.0: one flat picture with its resolution, never as a full plane."""

from guidekit.writers.tiff.writer import GuidesTiffWriter, PageTiffWriter

__all__ = ["GuidesTiffWriter", "PageTiffWriter"]
