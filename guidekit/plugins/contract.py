"""What guidekit promises to packages that add to it. Import from here, and from nowhere else in it.

A package tells what it brings by entry points in its ``pyproject.toml``, and depends on guidekit::

    [project.entry-points."guidekit.presets"]
    postcards = "postcards.presets"         # a folder of the package; each .toml in it is a preset
    [project.entry-points."guidekit.layouts"]
    postcards = "postcards.layouts"         # a folder; each table of its .toml files is a layout
    [project.entry-points."guidekit.guides"]
    postcards_corners = "postcards.guide:corners"           # a `Guide` of this name
    [project.entry-points."guidekit.writers"]
    postcards-list = "postcards.writer:LayerListWriter"     # what makes a `Writer` of this name

Presets and layouts are data: no code is run for them. A guide is loaded for an issue that switches
it on by its name, a writer for a build that asks for its format. Two of one name are refused where
the name is used, and a guide or format of guidekit's own cannot be replaced.

Whatever is called may run in another thread each time, and in no more than one at once. After a
second guidekit tells who is at work, after thirty it ends that and the build.

Coordinates are whole pixels of the canvas, x to the right and y downward; boxes are half-open.
Nothing here may be changed, for pages share it. `VERSION` grows by one when something that is
promised goes or comes to mean something else; what is added leaves it as it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Literal, Protocol

from guidekit.layers.guides.kind import Guide
from guidekit.layers.model import Group, Layer, Stack, all_members
from guidekit.plane.box import Box
from guidekit.raster.shapes import Area, Clip, Polygon, Rule, Shape, Stroke, outline
from guidekit.raster.text import Text
from guidekit.writers.protocol import Limits, Output, Writer

if TYPE_CHECKING:
    from guidekit.plane.outline import Outline

VERSION: Literal[1] = 1

__all__ = [
    "VERSION",
    "Area",
    "Box",
    "Clip",
    "Coverage",
    "Group",
    "Guide",
    "Layer",
    "Limits",
    "OnePage",
    "Output",
    "Page",
    "PageBoxes",
    "Panel",
    "Pen",
    "Polygon",
    "Rule",
    "Seen",
    "Shape",
    "Stack",
    "Stroke",
    "Text",
    "Writer",
    "all_members",
    "outline",
]


class OnePage(Protocol):
    """One of the pages on a canvas: its trim, and the safe area in it."""

    @property
    def trim(self) -> Box:
        """The finished page."""
        ...

    @property
    def safe_area(self) -> Box:
        """Where faces and lettering stay."""
        ...


class PageBoxes(Protocol):
    """The boxes of a canvas."""

    @property
    def canvas(self) -> Box:
        """The whole canvas; its left and top are 0."""
        ...

    @property
    def bleed(self) -> Box:
        """How far art must run."""
        ...

    @property
    def trim(self) -> Box:
        """What is left when the canvas is cut; both pages of a spread."""
        ...

    @property
    def fold(self) -> int | None:
        """The x of the fold of a spread, else None."""
        ...

    @property
    def pages(self) -> Sequence[OnePage]:
        """The page or, from the left, the two pages of a spread."""
        ...


class Panel(Protocol):
    """A panel, and where it lies."""

    @property
    def number(self) -> int:
        """Its number in reading order, from 1."""
        ...

    @property
    def box(self) -> Box:
        """The smallest box that holds it."""
        ...

    @property
    def outline(self) -> Outline:
        """A `Box`, or the corners (x, y) of a panel with slanted edges or round corners."""
        ...

    @property
    def bleed(self) -> frozenset[Literal["left", "top", "right", "bottom"]]:
        """The edges that run out to the bleed."""
        ...


class Page(Protocol):
    """A laid-out canvas: a page, a spread, or a part of a scroll."""

    @property
    def numbers(self) -> tuple[int, ...]:
        """Page numbers in reading order: two of a spread."""
        ...

    @property
    def side(self) -> str:
        """left, right, single or spread."""
        ...

    @property
    def file_name(self) -> str:
        """The beginning of every file name, without a suffix."""
        ...

    @property
    def boxes(self) -> PageBoxes:
        """Canvas, bleed, trim and fold."""
        ...

    @property
    def across(self) -> int:
        """The gutter between panels side by side, in pixels."""
        ...

    @property
    def down(self) -> int:
        """The gutter between tiers, in pixels."""
        ...

    @property
    def panels(self) -> Sequence[Panel]:
        """All panels, in reading order."""
        ...

    @property
    def note(self) -> str:
        """The page's own words, or nothing."""
        ...


class Pen(Protocol):
    """What lines and words of a guide measure, so that they suit the size of the page."""

    @property
    def weight(self) -> int:
        """The weight of a line: an even number of pixels."""
        ...

    @property
    def capitals(self) -> int:
        """The height of capitals in pixels."""
        ...

    def dash(self, *pattern: int) -> tuple[int, ...]:
        """A pattern of strokes and gaps given in line weights, for a `Rule` or a `Stroke`."""
        ...


class Seen(Protocol):
    """What a guide may know.

    A guide's ``draw`` is called with it once a canvas, and gives shapes; or layers, where it takes
    several colours. Every shape touches the canvas, and there are at most 100,000.
    """

    @property
    def page(self) -> Page:
        """The laid-out canvas."""
        ...

    @property
    def pen(self) -> Pen:
        """What suits its size."""
        ...

    @property
    def ink(self) -> tuple[int, int, int]:
        """The colour of words: black, or white on dark paper."""
        ...

    @property
    def right_to_left(self) -> bool:
        """True if reading begins on the right."""
        ...


class Coverage(Protocol):
    """How much of each pixel a layer covers, as `Layer.coverage` gives it."""

    @property
    def box(self) -> Box:
        """The rectangle outside of which nothing is covered."""
        ...

    def row(self, y: int) -> list[tuple[int, int]]:
        """The runs of the row at `y`, from the left of `box` on: (length, value of 0 to 255)."""
        ...
