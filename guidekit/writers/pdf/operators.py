"""Operators of a content stream (ISO 32000-1 Annex A), a line each."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from guidekit.plane.box import Box
from guidekit.plane.outline import points_of
from guidekit.raster.blend import Colour
from guidekit.writers.paths import Ring, number
from guidekit.writers.pdf.lengths import Placing, Rectangle

SAVE, RESTORE = "q", "Q"  # section 8.4.2
FILL, FILL_EVEN_ODD, STROKE = "f", "f*", "S"  # section 8.5.3
CLIP, CLIP_EVEN_ODD = "W n", "W* n"  # section 8.5.4
BLACK = "0 g 0 G"  # DeviceGray, section 8.6.4.2: black ink alone


def numbers(*values: Fraction | float, places: int = 4) -> str:
    """Operands; Annex C.2 promises about five decimals."""
    return " ".join(number(float(value), places) for value in values)


def path(rings: Iterable[Ring]) -> str:
    """Rings in pixels of the canvas, which turn all the same way (section 8.5.2)."""
    return "\n".join(map(_ring, rings))


def rectangle(edges: Rectangle) -> str:
    """A rectangle in points."""
    return f"{numbers(edges.left, edges.bottom, edges.width, edges.height)} re"


def line(x0: Fraction, y0: Fraction, x1: Fraction, y1: Fraction) -> str:
    """A stroke from point to point, in points."""
    return f"{numbers(x0, y0)} m {numbers(x1, y1)} l {STROKE}"


def weight(points: Fraction) -> str:
    """The weight of lines."""
    return f"{numbers(points)} w"


def colour(rgb: Colour) -> str:
    """DeviceRGB for fills and strokes (section 8.6.4.3), from 0 to 255."""
    parts = numbers(*(Fraction(part, 255) for part in rgb))
    return f"{parts} rg {parts} RG"


def canvas_space(canvas: Placing) -> str:
    """From here on in pixels, y downward (section 8.3.4)."""
    scale = numbers(canvas.scale, places=9)
    return f"{scale} 0 0 -{scale} {numbers(canvas.x, canvas.y, places=6)} cm"


def moved(x: Fraction, y: Fraction, upright: bool = False) -> str:
    """From here on from another point, and if `upright` turned to the left by a right angle."""
    return f"{'0 1 -1 0' if upright else '1 0 0 1'} {numbers(x, y)} cm"


def half_turned(x: Fraction, y: Fraction) -> str:
    """From here on turned by two right angles, so that (0, 0) comes to a point."""
    return f"-1 0 0 -1 {numbers(x, y)} cm"


def _ring(ring: Ring) -> str:
    if isinstance(ring, Box):
        return f"{ring.left} {ring.top} {ring.width} {ring.height} re"
    first, *others = points_of(ring)
    return f"{numbers(*first)} m {''.join(f'{numbers(*point)} l ' for point in others)}h"
