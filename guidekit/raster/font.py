"""Which font: a file by its path, and the two that come with guidekit."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

FOLDER = Path(__file__).parent / "fonts"


class FontFile(NamedTuple):
    """A font: the path of its file, and which of the fonts in a collection it is."""

    path: str
    number: int = 0


#: What sets all letters that a font named by the user has not. DejaVu Sans has Latin, Greek,
#: Cyrillic, Armenian, Georgian, Hebrew and Arabic; Droid Sans Fallback has Han, kana and hangul.
STANDARD = (
    FontFile(str(FOLDER / "DejaVuSans.ttf")),
    FontFile(str(FOLDER / "DroidSansFallback.ttf")),
)
