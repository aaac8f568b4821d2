"""OpenRaster, baseline version 0.0.6: layers as PNGs and their order as XML, in a ZIP.

Left out, for the baseline has no place for them: masks of groups, colour labels, ruler guides. The
merged image shows the masks all the same.
"""

from guidekit.writers.ora.writer import OraWriter

__all__ = ["OraWriter"]
