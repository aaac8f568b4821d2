"""A page laid out, with what can be taken hold of on it: panels, and the edges between parts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from guidekit.errors import InputError, Problem
from guidekit.geometry.canvas import Canvas
from guidekit.geometry.division.arrange import Arrangement, arrange
from guidekit.geometry.division.equal import equalised
from guidekit.geometry.division.region import Region
from guidekit.geometry.pages import FilledFrame, fields_of, page_canvas
from guidekit.geometry.rules import Rules
from guidekit.geometry.scroll import scroll_canvases
from guidekit.issue.models.by_side import names_sides
from guidekit.issue.models.issue import Page
from guidekit.issue.numbering import Numbering, numbered
from guidekit.issue.order import PageEntry
from guidekit.issue.tree import Node
from guidekit.plane.box import Box
from guidekit.planner.edits.contents import written_out
from guidekit.planner.edits.spots import Spot, Values, at, spots_of, with_at
from guidekit.planner.handles import Handle, handles_in
from guidekit.toml import Origin, checked


@dataclass(frozen=True)
class ShapedFrame:
    """A part of a page that fills a frame of its own: the whole page, or one half of a spread."""

    field: FilledFrame
    node: Node
    found: Arrangement


@dataclass(frozen=True)
class PlannedPage:
    """One page of an issue, as its file has it (`values`) and as it is laid out.

    A scroll has several `canvases`. What can be taken hold of is found out when it is asked for.
    """

    entry: PageEntry
    values: Values
    rules: Rules
    canvases: tuple[Canvas, ...]

    @cached_property
    def _read(self) -> tuple[tuple[ShapedFrame, ...], Numbering | None]:
        page, rules, areas = self.entry.page, self.rules, []
        if page.scroll or (page.spread and names_sides(self.values)):
            return (), None
        reader = rules.reader(spread=page.spread and not page.halves)
        for field in fields_of(page, self.canvas.boxes, rules):
            node = reader.read(field.part, key=field.key)
            found = arrange(node, field.frame, rules.spacing(page, field.flip))
            areas.append(ShapedFrame(field, node, found))
        count = sum(len(area.found.panels) for area in areas)
        return tuple(areas), numbered(page, count, reader.letters)

    @property
    def areas(self) -> tuple[ShapedFrame, ...]:
        """The parts that fill frames; none of a scroll, a bare page, a spread with sides."""
        return self._read[0]

    @property
    def numbering(self) -> Numbering | None:
        """The numbers that are printed; None of a scroll and of a spread with sides."""
        return self._read[1]

    @property
    def canvas(self) -> Canvas:
        """The only canvas, or the first."""
        return self.canvases[0]

    @property
    def can_be_shaped(self) -> bool:
        """False for what is changed in the file alone: scrolls, and pages that differ by side."""
        return bool(self.areas) and not names_sides(self.values)

    @cached_property
    def regions(self) -> dict[int, Region]:
        """Where each panel of the layout lies, by its number."""
        return {p.number: p.region for area in self.areas for p in area.found.panels}

    @property
    def boxes(self) -> dict[int, Box]:
        """The same as if all gutters were straight."""
        return {number: region.box for number, region in self.regions.items()}

    @cached_property
    def printed(self) -> dict[int, int]:
        """The number on the page of each panel, by its number in the layout."""
        return dict(enumerate(self.numbering.panels, 1)) if self.numbering else {}

    def layout_number(self, printed: int) -> int:
        """The number in the layout of the panel with a number on the page; raises `InputError`."""
        for number, other in self.printed.items():
            if other == printed:
                return number
        raise InputError(Problem((), f"panel {printed} is not one of the layout's"))

    @cached_property
    def handles(self) -> tuple[Handle, ...]:
        """All edges between parts, in an order that is the same however the page is spelled."""
        if not self.can_be_shaped:
            return ()
        return tuple(handle for area in self.areas for handle in self._handles(area))

    def _handles(self, area: ShapedFrame) -> Iterator[Handle]:
        spacing = self.rules.spacing(self.entry.page, area.field.flip)
        node, frame = area.node, area.field.frame
        if spacing.exact:
            node, frame = equalised(node, frame, spacing)
        yield from handles_in(node, area.field.key, frame, spacing)

    def spots(self) -> dict[int, Spot]:
        """Where each panel stands in the file, by its number in the layout.

        Only of a page in which no layout is named; see `written_out`.
        """
        found: dict[int, Spot] = {}
        for area in self.areas:
            key = area.field.key
            found |= spots_of(self.values, area.node, key)
        return found

    def written_out(self) -> PlannedPage:
        """The same page with the layouts that it names written out in full."""
        values = self.values
        for area in self.areas:
            key = area.field.key
            part = written_out(at(values, key), area.node)
            if key and not isinstance(part, dict):
                part = {"panels": part}
            values = with_at(values, key, part)
        return self if values == self.values else self.changed(values)

    def changed(self, values: Values) -> PlannedPage:
        """The same page with other values; raises `InputError`."""
        page = checked(Page, values, Origin(argument=""), {})
        entry = replace(self.entry, page=page.on(self.entry.side))
        return sheet_of(entry, values, self.rules)


def sheet_of(entry: PageEntry, values: Any, rules: Rules) -> PlannedPage:
    """Lay out one page of an issue; `values` is its entry in the file. Raises `InputError`."""
    if not isinstance(values, dict):
        values = {"panels": values}
    own, page = rules.of(entry.page), entry.page
    if page.scroll:
        return PlannedPage(entry, values, own, tuple(scroll_canvases(page, page.scroll, own)))
    return PlannedPage(entry, values, own, (page_canvas(entry, own),))
