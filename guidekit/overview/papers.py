"""What an overview is laid out on: a picture to look at, or paper for the wall."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from guidekit.errors import InputError, Problem, one_of, shown
from guidekit.raster.blend import Colour


@dataclass(frozen=True)
class Paper:
    """What is laid out on: width and height in pixels, resolution, margin, colour.

    A `height` of 0 grows with what is on it, so that there is one sheet. `page` is how tall pages
    are on it, of which the shortest is taken that several sheets would need.
    """

    width: int
    height: int
    dpi: int
    margin: int
    colour: Colour
    pages: tuple[int, ...]


SCREEN = Paper(2400, 0, 144, 60, (220, 217, 210), (220,))
#: Pixels at 300 dpi from 75 to 24 mm; the last, for several sheets, is larger again.
_TALL = (900, 760, 640, 540, 460, 390, 330, 280, 430)
PAPERS = {
    "a4": Paper(3508, 2480, 300, 120, (255, 255, 255), _TALL),  # ISO 216:2007, lying
    "letter": Paper(3300, 2550, 300, 120, (255, 255, 255), _TALL),  # ASME Y14.1 size A, lying
}


def check_paper(name: str, known: Iterable[str]) -> None:
    """Raises `InputError` for a paper that is not one of those `known`."""
    if name not in known:
        came = f"{shown(name)} is no paper for it"
        raise InputError(Problem((), came, one_of(known), argument="paper"))
