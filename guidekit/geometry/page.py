"""One canvas with everything that lies on it, in pixels."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from guidekit.geometry.arrange import Division
from guidekit.geometry.box import Box
from guidekit.geometry.convex import Points, corners
from guidekit.geometry.perspective import View
from guidekit.geometry.sheet import Sheet
from guidekit.issue.order import called

#: A box where all edges are straight and all corners square, else the corners of a polygon.
Outline = Box | Points


@dataclass(frozen=True)
class Panel:
    """A panel's number in reading order, and its shape.

    `box` is the smallest that holds `outline`. Its border is ruled between `outer`, which is the
    outline but where it lies against another panel, and `inner`, None for no border. `bleed` names
    the sides that run out to the bleed; no border is ruled there. `cuts` is what insets and their
    margins take away, `sharp` the outline before its corners are rounded by `radius` pixels.
    """

    number: int
    box: Box
    outline: Outline
    outer: Outline
    inner: Outline | None
    bleed: tuple[str, ...] = ()
    cuts: tuple[Outline, ...] = ()
    radius: int = 0
    sharp: Outline = ()
    view: View | None = None


def points_of(panel: Panel) -> Points:
    """The corners of a panel's outline."""
    return corners(panel.outline) if isinstance(panel.outline, Box) else panel.outline


@dataclass(frozen=True)
class Drawing:
    """A layer to draw on: its name, opacity 0 to 255, blend mode, and the group it is in."""

    name: str
    opacity: int = 255
    blend: Literal["normal", "multiply"] = "normal"
    group: str = ""


@dataclass(frozen=True)
class Book:
    """What all canvases of an issue share: its words, its paper and what is drawn on each page.

    Of the `drawing` layers those named in `panel_groups` are there once for each panel.
    Border, `fold_strip` and dpi are whole numbers. `capitals` and `space` of the lettering and the
    side of the `square_grid` (0 for none) are exact pixels: each of their lines is rounded by
    itself.
    """

    title: str
    number: int | None
    preset: str
    preset_digest: str
    preset_title: str
    font: str
    paper: str
    grey: bool
    depth: int
    gutter_cover: bool
    drawing: tuple[Drawing, ...]
    panel_groups: tuple[str, ...]
    dpi: int
    border: int
    capitals: Fraction
    space: Fraction
    lettering_lines: int
    square_grid: Fraction
    fold_strip: int


@dataclass(frozen=True)
class PagePlan:
    """A page or spread, laid out.

    `numbers` are page numbers in reading order; `side` is left, right, single or spread; `stem` is
    its file name without suffix. `frames` are what the panels fill before any runs to the bleed;
    `across` and `down` are the gutters, in pixels. `divisions` are the boxes divided equally,
    `screens` the y of each screen of a scroll, `guides` the names and states of all guides.
    """

    book: Book
    numbers: tuple[int, ...]
    side: str
    stem: str
    sheet: Sheet
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
        return tuple(safe for _, safe in self.sheet.halves)
