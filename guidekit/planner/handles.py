"""Edges between parts that can be taken hold of, and the lines on which their gutters lie."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import hypot
from typing import Any

from guidekit.errors import Key
from guidekit.geometry.division.spacing import Spacing
from guidekit.issue.models.bending import Bending
from guidekit.issue.models.share import Share
from guidekit.issue.tree import Axis, Grid, Node, Split
from guidekit.plane.box import Box
from guidekit.plane.cells import Span
from guidekit.plane.polygon import Point
from guidekit.planner.edits.contents import slant_value


@dataclass(frozen=True)
class Line:
    """Where the middle of a gutter lies as if it did not bend, from its upper or left end.

    `axis` is that along which its parts lie. What is off the line is to its right, or below it.
    """

    axis: Axis
    start: Point
    end: Point

    @property
    def length(self) -> float:
        """From end to end, in pixels."""
        return hypot(self.end[0] - self.start[0], self.end[1] - self.start[1])

    @property
    def _ways(self) -> tuple[Point, Point]:
        """Along it and off it, a pixel each."""
        x, y = ((b - a) / self.length for a, b in zip(self.start, self.end, strict=True))
        return (x, y), (y, -x) if self.axis == "across" else (-y, x)

    def at(self, along: float, off: float) -> Point:
        """The point so many pixels along the line and off it."""
        (x, y), (u, v) = self._ways
        return self.start[0] + along * x + off * u, self.start[1] + along * y + off * v

    def place_of(self, point: Point) -> tuple[float, float]:
        """How far along the line and how far off it a point is."""
        by = point[0] - self.start[0], point[1] - self.start[1]
        along, off = (by[0] * x + by[1] * y for x, y in self._ways)
        return along, off


@dataclass(frozen=True)
class Handle:
    """An edge between two parts of a row that can be taken hold of.

    The row stands at `path` of the page; `gap` counts its gaps from 0; `spans` are where its parts
    lie along its `axis`. `name` is that of its list in the file, empty for
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
    begin: int
    end: int
    lean: float = 0.0
    bends: tuple[Bending | None, ...] = ()

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

    @property
    def line(self) -> Line:
        """Where its gutter lies; an upright one leans to the right at its top, others fall so."""
        if self.axis == "across":
            first, last = self.middle + self.lean / 2, self.middle - self.lean / 2
            return Line(self.axis, (first, self.begin), (last, self.end))
        first, last = self.middle - self.lean / 2, self.middle + self.lean / 2
        return Line(self.axis, (self.begin, first), (self.end, last))


def handles_in(node: Node, path: Key, box: Box, spacing: Spacing) -> Iterator[Handle]:
    """All edges of a tree that fills a box; `path` leads to where it stands in the page."""
    if isinstance(node, Split):
        spacing = spacing.within(node)
        spans = _spans(node.axis, box, spacing, spacing.row_of(node))
        yield from _row(node, path, box, spans, spacing)
        for i, part in enumerate(node.parts):
            inner = (*path, node.list_name, i) if node.list_name else path
            yield from handles_in(part, inner, _cut(box, node.axis, spans[i]), spacing)
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
    bends = node.bends or (None,) * len(slants)
    words = tuple(map(slant_value, slants))
    for gap, slant in enumerate(slants):
        lean = slant.px(end - begin, spacing.dpi) if slant else 0.0
        yield Handle(
            path,
            node.axis,
            node.list_name,
            gap,
            spans,
            node.shares,
            words,
            begin,
            end,
            lean,
            bends,
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
            yield Handle(path, "across", "map", gap, xs, node.columns, (), begin, end)
    for gap in range(len(ys) - 1):
        apart = [x for x in range(len(xs)) if cells.get((x, gap)) != cells.get((x, gap + 1))]
        if apart:
            begin, end = xs[apart[0]][0], xs[apart[-1]][1]
            yield Handle(path, "down", "map", gap, ys, node.rows, (), begin, end)
