"""Which font shows which letters: Helvetica, which every reader of PDF has, or a font file.

Reportlab has no types; what is used of it stands here and in `document`.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import Any

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFError, TTFont

from guidekit.raster.text import capitals_in_em

PLAIN = "Helvetica"  # ISO 32000-1 section 9.6.2.2, one of the standard 14 fonts
PLAIN_CAPITALS = Fraction(718, 1000)  # of its size, by the published metrics of the face


def plain_size(capitals: Fraction) -> Fraction:
    """The size of Helvetica for capitals of a height."""
    return capitals / PLAIN_CAPITALS


def plain_width(text: str, size: Fraction) -> Fraction:
    """How wide a text is in Helvetica."""
    return Fraction(pdfmetrics.stringWidth(shown(text, PLAIN), PLAIN, 1)) * size


def font_called(path: str) -> tuple[str, float]:
    """The name of an embedded font file and its capitals as a part of its size.

    Helvetica stands in for no file, and for a file without TrueType outlines.
    """
    name = _embedded(path) if path else None
    return (name, capitals_in_em(path)) if name else (PLAIN, float(PLAIN_CAPITALS))


def shown(text: str, font: str) -> str:
    """The text with a question mark for every letter that the font has not."""
    if font == PLAIN:  # Annex D.2: WinAnsiEncoding
        return text.encode("cp1252", "replace").decode("cp1252")
    known: dict[int, Any] = pdfmetrics.getFont(font).face.charToGlyph
    return "".join(letter if ord(letter) in known else "?" for letter in text)


@lru_cache(maxsize=16)
def _embedded(path: str) -> str | None:
    """Register a font file under its path; None if it cannot be embedded."""
    try:
        pdfmetrics.registerFont(TTFont(path, path))
    except TTFError:
        return None
    return path
