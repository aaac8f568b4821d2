"""Short labels as outlines and as coverage."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

import numpy as np

from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.raster.bands import EMPTY, Bands
from guidekit.raster.curves import edges_of
from guidekit.raster.face import Contour
from guidekit.raster.fill import fill_edges
from guidekit.raster.font import FontFile
from guidekit.raster.typeset import faces_for, typeset

_FIVE_GREYS = np.array([(value + 32) // 64 * 255 // 4 for value in range(256)], np.uint8)


@dataclass(frozen=True)
class Text:
    """One line of text: `x` at the left of its first letter, `y` at the top of its capitals.

    `height` is the height of the capitals in pixels, `font` what is looked in first for letters,
    before the two that come with guidekit.
    """

    text: str
    x: int
    y: int
    height: int
    font: FontFile | None = None


def text_width(text: str, height: float, font: FontFile | None = None) -> int:
    """How many pixels wide the text is at this height of capitals."""
    return ceil(typeset(text, font).width * _size(height, font))


def letter_box(text: Text) -> Box:
    """Where a line of text stands: as wide as it is drawn, as high as its capitals."""
    width = text_width(text.text, text.height, text.font)
    return Box(text.x, text.y, text.x + width, text.y + text.height)


def cover_text(text: Text, canvas: Box) -> Bands:
    """The text's coverage inside `canvas`."""
    drawn = _drawn(text.text, text.height, text.font)
    moved = Bands(
        drawn.left + text.x,
        drawn.right + text.x,
        drawn.tops + text.y,
        drawn.first,
        drawn.starts + text.x,
        drawn.values,
    )
    part = moved.box.clipped(canvas)
    return EMPTY if part.is_empty or drawn is EMPTY else moved.within(part)


def contours(text: str, height: float, font: FontFile | None = None) -> Iterator[Contour]:
    """The outlines of a text whose capitals stand from 0 down to `height`; x, y in pixels.

    Filled by the rule of winding numbers other than 0.
    """
    size = _size(height, font)

    def placed(point: tuple[float, float], x: float, y: float) -> tuple[float, float]:
        return (point[0] + x) * size, height - (point[1] + y) * size

    for face, number, x, y in typeset(text, font).glyphs:
        for start, parts in face.outlines(number):
            yield Contour(
                placed(start, x, y),
                tuple(tuple(placed(point, x, y) for point in part) for part in parts),
            )


def _size(height: float, font: FontFile | None) -> float:
    return height / faces_for(font)[0].capitals


@remembered
def _drawn(text: str, height: int, font: FontFile | None) -> Bands:
    """The text with its capitals at 0 to `height`, in 5 steps of grey and no more.

    So few steps keep the palette of an indexed picture small, and nobody sees the difference.
    """
    drawn = fill_edges(*edges_of(contours(text, height, font)))
    return EMPTY if drawn is EMPTY else drawn.mapped(_FIVE_GREYS).cropped()
