"""One canvas with everything that lies on it, in pixels."""

from __future__ import annotations

from dataclasses import dataclass

from guidekit.geometry.arrange import Division
from guidekit.geometry.book import Book
from guidekit.geometry.page_boxes import PageBoxes
from guidekit.geometry.perspective import View
from guidekit.issue.order import called
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline


@dataclass(frozen=True)
class Border:
    """A ruled line: what lies within `outer` and outside `inner`, which is None if that is nothing.

    `outer` is the panel's outline but where it lies against another panel.
    """

    outer: Outline
    inner: Outline | None


@dataclass(frozen=True)
class Panel:
    """A panel's number in reading order, and its shape.

    `box` is the smallest that holds `outline`. `bleed` names the sides that run out to the bleed;
    no border is ruled there. `cuts` is what insets and their margins take away, `sharp` the outline
    before its corners are rounded by `radius` pixels.
    """

    number: int
    box: Box
    outline: Outline
    sharp: Outline
    border: Border | None = None
    bleed: tuple[str, ...] = ()
    cuts: tuple[Outline, ...] = ()
    radius: int = 0
    view: View | None = None


@dataclass(frozen=True)
class PagePlan:
    """A page or spread, laid out.

    `numbers` are page numbers in reading order; `side` is left, right, single or spread;
    `file_name` has no suffix. `frames` are what the panels fill before any runs to the bleed;
    `across` and `down` are the gutters, in pixels. `divisions` are the boxes divided equally,
    `screens` the y of each screen of a scroll, `guides` the names and states of all guides.
    """

    book: Book
    numbers: tuple[int, ...]
    side: str
    file_name: str
    boxes: PageBoxes
    across: int
    down: int
    frames: tuple[Box, ...]
    panels: tuple[Panel, ...]
    divisions: tuple[Division, ...] = ()
    screens: tuple[int, ...] = ()
    view: View | None = None
    guides: tuple[tuple[str, str], ...] = ()
    note: str = ""

    @property
    def called(self) -> str:
        """``page 4``, or ``pages 4 and 5`` of a spread."""
        return called(self.numbers)

    @property
    def safe_areas(self) -> tuple[Box, ...]:
        """The safe area of each page on the canvas."""
        return tuple(page.safe_area for page in self.boxes.pages)
