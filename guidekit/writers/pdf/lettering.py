"""Letters as outlines: whatever font they are of, no reader needs it and no printer swaps it."""

from __future__ import annotations

from codecs import BOM_UTF16_BE
from collections.abc import Iterator
from fractions import Fraction

from guidekit.raster.face import Contour
from guidekit.raster.font import FontFile
from guidekit.raster.text import contours
from guidekit.writers.pdf.operators import FILL, RESTORE, SAVE, numbers

Number = Fraction | float

DRAWN_TO = {1: "l", 3: "c"}  # a line to one point, a Bézier curve by three


def letters(
    text: str, x: Number, y: Number, capitals: Number, font: FontFile | None = None
) -> Iterator[str]:
    """A line of text from a point on its base line, on a page whose y runs upward."""
    return _outlined(text, f"1 0 0 -1 {numbers(x, y + capitals)} cm", capitals, font)


def letters_downward(
    text: str, x: Number, y: Number, capitals: Number, font: FontFile | None = None
) -> Iterator[str]:
    """A line of text from the top of its first capital, where y runs downward."""
    return _outlined(text, f"1 0 0 1 {numbers(x, y)} cm", capitals, font)


def _outlined(text: str, placed: str, capitals: Number, font: FontFile | None) -> Iterator[str]:
    """The words stand beside their outlines as replacement text (section 14.9.4)."""
    words = (BOM_UTF16_BE + text.encode("utf-16-be", "replace")).hex()
    yield f"/Span <</ActualText <{words}>>> BDC"
    yield from (SAVE, placed)
    yield from map(_contour, contours(text, float(capitals), font))
    yield from (FILL, RESTORE, "EMC")


def _contour(contour: Contour) -> str:
    """Section 8.5.2: to the start, then straight lines and cubic curves."""
    start, parts = contour
    drawn = (
        f"{' '.join(numbers(*point) for point in part)} {DRAWN_TO[len(part)]} " for part in parts
    )
    return f"{numbers(*start)} m {''.join(drawn)}h"
