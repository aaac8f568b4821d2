"""One canvas with everything that lies on it, in pixels."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from guidekit.geometry.book import Book
from guidekit.geometry.division.arrange import Division
from guidekit.geometry.folio import Folio
from guidekit.geometry.page_boxes import PageBoxes
from guidekit.geometry.panels.perspective import PerspectiveLines
from guidekit.issue.order import called
from guidekit.plane.box import Box, Edge
from guidekit.plane.ellipse import Ellipse
from guidekit.plane.outline import Outline, box_of
from guidekit.plane.polygon import Points


@dataclass(frozen=True)
class Border:
    """A ruled line: what lies within `outer` and outside `inner`, which is None if that is nothing.

    `outer` is the panel's outline but where it lies against another panel; `weight` is in pixels.
    """

    outer: Outline
    inner: Outline | None
    weight: int


@dataclass(frozen=True)
class Figure:
    """A figure that breaks out of its panel, by name; `gap` is the margin that it cuts, if any."""

    name: str
    outline: Outline
    gap: int | None = None
    ellipse: Ellipse | None = None


@dataclass(frozen=True)
class Panel:
    """A panel's number in reading order, and its shape.

    `sharp` is the outline before its corners are rounded by `radius` pixels; `ellipse` says that it
    is one. `bleed` names the edges that run out to the bleed; no border is ruled there. `cut_out`
    is what others that lie above and their margins take away. `figures` belong to it, but not to
    its border. `arcs` are those of its corners that lie on an arc, the ends of each first and last.
    """

    number: int
    outline: Outline
    sharp: Outline
    radius: int = 0
    border: Border | None = None
    bleed: frozenset[Edge] = frozenset()
    cut_out: tuple[Outline, ...] = ()
    view: PerspectiveLines | None = None
    level: int = 0
    ellipse: Ellipse | None = None
    figures: tuple[Figure, ...] = ()
    arcs: tuple[Points, ...] = ()

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:  # asked for often, of what may have thousands of corners
        return hash((self.number, self.outline, self.cut_out, self.figures))

    @cached_property
    def box(self) -> Box:
        """The smallest box that holds the outline."""
        return box_of(self.outline)

    @cached_property
    def parts(self) -> tuple[Outline, ...]:
        """The outline, and the figures that break out of it."""
        return (self.outline, *(figure.outline for figure in self.figures))

    @cached_property
    def boxes(self) -> tuple[Box, ...]:
        """The smallest box that holds each part."""
        return tuple(map(box_of, self.parts))


@dataclass(frozen=True)
class PagePlan:
    """A page or spread, or a part of a page that takes several canvases, laid out.

    `numbers` are page numbers in reading order; a canvas of the cover has none and a `name`; `part`
    counts the canvases of one page from 1 and is None where there is only one; `side` is left,
    right, single or spread; `file_name` has no suffix. `frames` are what the panels of the layout
    and their gutters fill, and where gutters go on between panels that run to the bleed; `empty`
    are the places in them without a panel; `across` and `down` are the gutters, in pixels.
    `divisions` are the boxes divided equally, `screens` the y of each screen of a scroll, `guides`
    the names and states of those that are switched. `kind` is that of the page in the book,
    `section` the title of one that begins here, `reveal` whether a page turn is to show it.
    `folios` are page numbers to print; `creep` is how far folding pushes the page out, in
    millimetres.
    """

    book: Book
    numbers: tuple[int, ...]
    part: int | None
    side: str
    file_name: str
    boxes: PageBoxes
    across: int
    down: int
    frames: tuple[Box, ...]
    panels: tuple[Panel, ...]
    divisions: tuple[Division, ...] = ()
    screens: tuple[int, ...] = ()
    view: PerspectiveLines | None = None
    empty: tuple[Outline, ...] = ()
    guides: tuple[tuple[str, str], ...] = ()
    note: str = ""
    kind: str = "story"
    section: str = ""
    reveal: bool = False
    folios: tuple[Folio, ...] = ()
    creep: Fraction = Fraction(0)
    name: str = ""

    @property
    def called(self) -> str:
        """``page 4``, ``pages 4 and 5`` of a spread, ``page 4, part 1``, or its `name`."""
        return self.name or called(self.numbers, self.part)

    @property
    def safe_areas(self) -> tuple[Box, ...]:
        """The safe area of each page on the canvas."""
        return tuple(page.safe_area for page in self.boxes.pages)
