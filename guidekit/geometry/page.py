"""One canvas with everything that lies on it, in pixels."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from guidekit.geometry.box import Box
from guidekit.geometry.sheet import Sheet
from guidekit.issue.order import called


@dataclass(frozen=True)
class Panel:
    """A panel's number in reading order and its box; `bleed` names the sides that run out."""

    number: int
    box: Box
    bleed: tuple[str, ...] = ()


@dataclass(frozen=True)
class Book:
    """What all canvases of an issue share: its words, its paper and what is drawn on each page.

    Border and dpi are whole numbers. `capitals` and `space` of the lettering, and the height of a
    `screen` of a scroll (0 in print), are exact pixels: each of their lines is rounded by itself.
    """

    title: str
    number: int | None
    preset: str
    preset_title: str
    font: str
    paper: str
    grey: bool
    gutter_cover: bool
    drawing: tuple[str, ...]
    dpi: int
    border: int
    capitals: Fraction
    space: Fraction
    screen: Fraction


@dataclass(frozen=True)
class PagePlan:
    """A page or spread, laid out.

    `numbers` are page numbers in reading order; `side` is left, right, single or spread; `stem` is
    its file name without suffix. `frame` is what the panels fill before any runs to the bleed;
    `across` and `down` are the gutters, in pixels.
    """

    book: Book
    numbers: tuple[int, ...]
    side: str
    stem: str
    sheet: Sheet
    across: int
    down: int
    frame: Box
    panels: tuple[Panel, ...]
    note: str = ""

    @property
    def called(self) -> str:
        """``page 4``, or ``pages 4 and 5`` of a spread."""
        return called(self.numbers)

    @property
    def safe_areas(self) -> tuple[Box, ...]:
        """The safe area of each page on the canvas."""
        return tuple(safe for _, safe in self.sheet.halves)
