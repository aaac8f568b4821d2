"""SVG 1.1 (W3C, second edition) and blend modes as CSS has them: shapes as shapes, no pixels."""

from guidekit.writers.svg.writer import SvgWriter

__all__ = ["SvgWriter"]
