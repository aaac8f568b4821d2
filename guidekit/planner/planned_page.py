"""A page laid out, with what can be taken hold of on it: panels, and the edges between parts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

from guidekit.errors import InputError, Key, Problem
from guidekit.geometry.canvas import Canvas
from guidekit.geometry.division.arrange import Arrangement, arrange
from guidekit.geometry.division.equal import equalised
from guidekit.geometry.division.spacing import Spacing
from guidekit.geometry.pages import FilledFrame, fields_of, page_canvas
from guidekit.geometry.rules import Rules
from guidekit.geometry.scroll import scroll_canvases
from guidekit.issue.models.by_side import names_sides
from guidekit.issue.models.issue import Page
from guidekit.issue.models.share import Share
from guidekit.issue.numbering import Numbering, numbered
from guidekit.issue.order import PageEntry
from guidekit.issue.tree import Axis, Grid, Node, Split
from guidekit.plane.box import Box
from guidekit.plane.cells import Span
from guidekit.planner.edits.contents import slant_value, written_out
from guidekit.planner.edits.spots import Spot, Values, at, spots_of, with_at
from guidekit.toml import Origin, checked


@dataclass(frozen=True)
class ShapedFrame:
    """A part of a page that fills a frame of its own: the whole page, or one half of a spread."""

    field: FilledFrame
    node: Node
    found: Arrangement


@dataclass(frozen=True)
class Handle:
    """An edge between two parts of a row that can be taken hold of.

    The row stands at `path` of the page; `gap` counts its gaps from 0; `spans` are where its parts
    lie along its `axis`, `box` is what it fills. `name` is that of its list in the file, empty for
    a number of panels and for a map. `begin` and `end` are where the middle of the gap begins and
    ends along the other axis, `lean` how far apart its ends are.
    """

    path: Key
    axis: Axis
    name: str
    gap: int
    spans: tuple[Span, ...]
    shares: tuple[Share, ...]
    slants: tuple[str, ...]
    box: Box
    begin: int
    end: int
    lean: float = 0.0

    @property
    def middle(self) -> float:
        """Where the middle of the gap is along the axis, in pixels."""
        return (self.spans[self.gap][1] + self.spans[self.gap + 1][0]) / 2

    @property
    def width(self) -> int:
        """How wide the gap is, in pixels."""
        return self.spans[self.gap + 1][0] - self.spans[self.gap][1]

    @property
    def limits(self) -> Span:
        """Where the part before the gap begins, and the one behind it ends."""
        return self.spans[self.gap][0], self.spans[self.gap + 1][1]


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
    def boxes(self) -> dict[int, Box]:
        """The box of each panel of the layout as if all gutters were straight, by its number."""
        return {p.number: p.box for area in self.areas for p in area.found.panels}

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
        yield from _within(node, area.field.key, frame, spacing)

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


def _within(node: Node, path: Key, box: Box, spacing: Spacing) -> Iterator[Handle]:
    if isinstance(node, Split):
        spacing = spacing.within(node)
        spans = _spans(node.axis, box, spacing, spacing.row_of(node))
        yield from _row(node, path, box, spans, spacing)
        for i, part in enumerate(node.parts):
            inner = (*path, node.list_name, i) if node.list_name else path
            yield from _within(part, inner, _cut(box, node.axis, spans[i]), spacing)
    elif isinstance(node, Grid):
        yield from _tracks(node, path, box, spacing.within(node))


def _spans(axis: Axis, box: Box, spacing: Spacing, row: Any) -> tuple[Span, ...]:
    start, size = (box.left, box.width) if axis == "across" else (box.top, box.height)
    return tuple((a + start, b + start) for a, b in spacing.spans(axis, size, row))


def _cut(box: Box, axis: Axis, span: Span) -> Box:
    if axis == "across":
        return replace(box, left=span[0], right=span[1])
    return replace(box, top=span[0], bottom=span[1])


def _row(
    node: Split, path: Key, box: Box, spans: tuple[Span, ...], spacing: Spacing
) -> Iterator[Handle]:
    begin, end = (box.top, box.bottom) if node.axis == "across" else (box.left, box.right)
    slants = node.slants or (None,) * (len(spans) - 1)
    words = tuple(map(slant_value, slants))
    for gap, slant in enumerate(slants):
        lean = slant.px(end - begin, spacing.dpi) if slant else 0.0
        yield Handle(
            path, node.axis, node.list_name, gap, spans, node.shares, words, box, begin, end, lean
        )


def _tracks(node: Grid, path: Key, box: Box, spacing: Spacing) -> Iterator[Handle]:
    """Edges of a map, as long as different panels lie on both sides."""
    cells = {
        (x, y): index
        for index, (_, block) in enumerate(node.blocks)
        for x in range(block.area.left, block.area.right)
        for y in range(block.area.top, block.area.bottom)
        if not block.cells or (x, y) in block.cells
    }
    xs = _spans("across", box, spacing, spacing.tracks_of(node, "across"))
    ys = _spans("down", box, spacing, spacing.tracks_of(node, "down"))
    for gap in range(len(xs) - 1):
        apart = [y for y in range(len(ys)) if cells.get((gap, y)) != cells.get((gap + 1, y))]
        if apart:
            begin, end = ys[apart[0]][0], ys[apart[-1]][1]
            yield Handle(path, "across", "map", gap, xs, node.columns, (), box, begin, end)
    for gap in range(len(ys) - 1):
        apart = [x for x in range(len(xs)) if cells.get((x, gap)) != cells.get((x, gap + 1))]
        if apart:
            begin, end = xs[apart[0]][0], xs[apart[-1]][1]
            yield Handle(path, "down", "map", gap, ys, node.rows, (), box, begin, end)
