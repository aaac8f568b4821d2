"""Short labels as coverage: each drawn once in its own small box, then held as runs."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import numpy as np
from PIL import ImageFont

from guidekit.geometry.box import Box
from guidekit.raster.bands import EMPTY, Bands, from_steps, rebuilt


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


@lru_cache(maxsize=512)
def _drawn(text: str, height: int, font: str) -> Bands:
    """The text with its capitals at 0 to `height`, in 5 steps of grey and no more.

    So few steps keep the palette of an indexed picture small, and nobody sees the difference.
    """
    if not text.strip():
        return EMPTY
    top, bottom = _face(1000, font).getbbox("H", anchor="ls")[1::2]
    face = _face(max(1, height * 1000 / (bottom - top)), font)
    mask, (left, above) = face.getmask2(text, mode="L", anchor="ls")
    width, rows = mask.size
    if not width or not rows:
        return EMPTY
    grey = np.frombuffer(bytes(mask), np.uint8).reshape(rows, width).astype(np.int64)
    grey = (grey + 32) // 64 * 255 // 4
    left, above = round(left), round(above) + height
    box = Box(left, above, left + width, above + rows)
    steps = np.diff(grey, axis=1, prepend=0)
    row, x = np.nonzero(steps)
    tops = np.arange(box.top, box.bottom + 1)
    keys, values = from_steps(box, tops, row, x + left, steps[row, x])
    return rebuilt(box, tops, keys, values.astype(np.uint8)).cropped()


@lru_cache(maxsize=32)
def _face(size: float, font: str) -> ImageFont.FreeTypeFont:
    if font:
        data = Path(font)
        return ImageFont.truetype(str(data), size, layout_engine=ImageFont.Layout.BASIC)
    face = ImageFont.load_default(size)
    assert isinstance(face, ImageFont.FreeTypeFont)  # Pillow's wheels are built with FreeType
    return face
