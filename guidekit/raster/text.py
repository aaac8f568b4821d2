"""Short labels as coverage: each drawn once in its own small box, then held as runs."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from math import ceil, floor

import numpy as np
from PIL import Image, ImageDraw, ImageFont

from guidekit.errors import InputError, Problem
from guidekit.plane.box import Box
from guidekit.raster.bands import EMPTY, Bands, from_keys, from_steps

_FIVE_GREYS = [(value + 32) // 64 * 255 // 4 for value in range(256)]


@dataclass(frozen=True)
class Text:
    """One line of text: `x` at the left of its first letter, `y` at the top of its capitals.

    `height` is the height of the capitals in pixels, `font` the path of a TrueType or OpenType
    file; empty for the font built into Pillow, which has Latin letters only.
    """

    text: str
    x: int
    y: int
    height: int
    font: str = ""


def text_width(text: str, height: int, font: str = "") -> int:
    """How many pixels wide the text is at this height of capitals."""
    return _drawn(text, height, font).box.right


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


def missing_letters(text: str, font: str = "") -> str:
    """The letters of `text` that the font has no drawing for, each once, in order."""
    face = _face(32, font)
    nothing = bytes(face.getmask("\U0010fffd"))  # a private character: drawn as "no such letter"
    return "".join(
        c for c in dict.fromkeys(text) if not c.isspace() and bytes(face.getmask(c)) == nothing
    )


@lru_cache(maxsize=64)
def _drawn(text: str, height: int, font: str) -> Bands:
    """The text with its capitals at 0 to `height`, in 5 steps of grey and no more.

    So few steps keep the palette of an indexed picture small, and nobody sees the difference.
    """
    if not text.strip():
        return EMPTY
    face = _face(max(1.0, height / capitals_in_em(font)), font)
    left, above, right, below = face.getbbox(text, anchor="ls")
    width, rows = ceil(right) - floor(left), ceil(below) - floor(above)
    if width < 1 or rows < 1:
        return EMPTY
    image = Image.new("L", (width, rows))
    ImageDraw.Draw(image).text((-floor(left), -floor(above)), text, 255, face, anchor="ls")
    grey = np.asarray(image.point(_FIVE_GREYS))
    left, above = floor(left), floor(above) + height
    box = Box(left, above, left + width, above + rows)
    begins = np.zeros((rows, width), bool)  # where a pixel differs from the one before
    np.not_equal(grey[:, 1:], grey[:, :-1], out=begins[:, 1:])
    begins[:, 0] = grey[:, 0] > 0
    row, x = np.nonzero(begins)
    steps = grey[row, x].astype(np.int64)
    steps -= np.where(x > 0, grey[row, x - 1], 0)
    closing = np.flatnonzero(grey[:, -1])  # a row ends at 0
    tops = np.arange(box.top, box.bottom + 1)
    keys, values = from_steps(
        box,
        tops,
        np.concatenate([row, closing]),
        np.concatenate([x + left, np.full(len(closing), box.right)]),
        np.concatenate([steps, -grey[closing, -1].astype(np.int64)]),
    )
    return from_keys(box, tops, keys, values.astype(np.uint8)).cropped()


@lru_cache(maxsize=16)
def capitals_in_em(font: str) -> float:
    """The height of capitals as a part of the size of the letters."""
    _, top, _, bottom = _face(1000, font).getbbox("H", anchor="ls")
    return (bottom - top or 700) / 1000  # about 0.7 for a font without an H


@lru_cache(maxsize=32)
def _face(size: float, font: str) -> ImageFont.FreeTypeFont:
    if font:
        try:
            return ImageFont.truetype(font, size, layout_engine=ImageFont.Layout.BASIC)
        except OSError as error:
            raise InputError(
                Problem(
                    font, f"no letters can be drawn with it: {error}", "a TrueType or OpenType font"
                )
            ) from None
    face = ImageFont.load_default(size)
    assert isinstance(face, ImageFont.FreeTypeFont)  # Pillow's wheels are built with FreeType
    return face
