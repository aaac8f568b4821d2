"""Pixels in which edges of several areas cross: what is covered there is computed by itself.

Elsewhere one edge at most parts a pixel, or two that leave no doubt, and coverages can be added,
subtracted and compared. Where edges cross, in the corners of neighbours for instance, it depends on
how they lie. Such pixels are few.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise, product
from math import ceil, floor, hypot

from guidekit.plane.box import Box
from guidekit.plane.outline import bounds
from guidekit.plane.polygon import Point, Points, area, clip_box

Cell = tuple[int, int]  # column and row of a pixel
Edge = tuple[Point, Point]
Bounds = tuple[float, float, float, float]  # left, top, right, bottom
PARALLEL = 1e-9  # sine of the angle between two edges
ALL = 1 - 1e-9  # of a pixel
BLOCK = 8  # pixels each way that are looked at together


@dataclass(frozen=True)
class Solid:
    """What convex polygons cover and others, the holes, do not; all corners run one way round."""

    polygons: tuple[Points, ...]
    holes: tuple[Points, ...]

    @classmethod
    def of(cls, polygons: Iterable[Points], holes: Iterable[Points]) -> Solid:
        """Whichever way the corners run."""
        return cls(tuple(map(_clockwise, polygons)), tuple(map(_clockwise, holes)))

    def within(self, box: Box) -> Solid:
        """The part in a box."""
        return Solid(_clipped(self.polygons, box), _clipped(self.holes, box))


@dataclass(frozen=True)
class _Outline:
    """A polygon of a solid: the rectangle round it, and its edges that part pixels."""

    bounds: Bounds
    edges: tuple[tuple[Bounds, Edge], ...]

    @classmethod
    def of(cls, points: Points) -> _Outline:
        return cls(bounds([points]), tuple((_reach(edge), edge) for edge in _slanted(points)))

    def near(self, place: Bounds) -> list[tuple[Bounds, Edge]]:
        """The edges that meet a rectangle."""
        return [found for found in self.edges if _meet(found[0], place)]


def crossings(solids: Sequence[Solid]) -> dict[Cell, float]:
    """Which part of a pixel the solids cover together, for each pixel where their edges cross."""
    blocks: dict[Cell, set[Cell]] = defaultdict(set)
    for x, y in _crossed(solids):
        blocks[x // BLOCK, y // BLOCK].add((x, y))
    found: dict[Cell, float] = {}
    places = [(bounds(solid.polygons), solid) for solid in solids] if blocks else []
    for (column, row), cells in blocks.items():
        here = Box(column * BLOCK, row * BLOCK, (column + 1) * BLOCK, (row + 1) * BLOCK)
        edges = (here.left, here.top, here.right, here.bottom)
        near = [solid.within(here) for place, solid in places if _meet(place, edges)]
        found |= {(x, y): _covered(near, Box(x, y, x + 1, y + 1)) for x, y in cells}
    return found


def _crossed(solids: Sequence[Solid]) -> set[Cell]:
    """The pixels in which edges of two solids cross, or of two holes of one."""
    outlines = [
        ([*map(_Outline.of, solid.polygons)], [*map(_Outline.of, solid.holes)]) for solid in solids
    ]
    cells: set[Cell] = set()
    for _, holes in outlines:
        for hole, other in combinations(holes, 2):
            cells |= _shared(hole, other)
    for (mine, my_holes), (theirs, their_holes) in combinations(outlines, 2):
        if any(_meet(one.bounds, other.bounds) for one in mine for other in theirs):
            for one, other in product((*mine, *my_holes), (*theirs, *their_holes)):
                cells |= _shared(one, other)
    return cells


def _shared(one: _Outline, other: _Outline) -> set[Cell]:
    """The pixels through which edges of both run, unless they run opposite ways side by side."""
    cells: set[Cell] = set()
    if not (one.edges and other.edges and _meet(one.bounds, other.bounds)):
        return cells
    theirs = other.near(one.bounds)
    for reach, edge in one.near(other.bounds) if theirs else ():
        for their_reach, their_edge in theirs:
            if _meet(reach, their_reach) and not _opposite(edge, their_edge):
                common = (
                    max(reach[0], their_reach[0]),
                    max(reach[1], their_reach[1]),
                    min(reach[2], their_reach[2]),
                    min(reach[3], their_reach[3]),
                )
                cells |= {*_cells(edge, common)} & {*_cells(their_edge, common)}
    return cells


def _slanted(points: Points) -> Iterator[Edge]:
    """The edges of a polygon that part pixels."""
    for (x0, y0), (x1, y1) in pairwise((*points, points[0])):
        if (x0 != x1 or x0 != int(x0)) and (y0 != y1 or y0 != int(y0)):
            yield (x0, y0), (x1, y1)


def _opposite(edge: Edge, other: Edge) -> bool:
    ux, uy = edge[1][0] - edge[0][0], edge[1][1] - edge[0][1]
    vx, vy = other[1][0] - other[0][0], other[1][1] - other[0][1]
    least = PARALLEL * hypot(ux, uy) * hypot(vx, vy)
    return abs(ux * vy - uy * vx) <= least and ux * vx + uy * vy < 0


def _reach(edge: Edge) -> Bounds:
    """The whole pixels round an edge."""
    (x0, y0), (x1, y1) = edge
    return floor(min(x0, x1)), floor(min(y0, y1)), ceil(max(x0, x1)), ceil(max(y0, y1))


def _cells(edge: Edge, within: Bounds) -> Iterator[Cell]:
    """The pixels through which an edge runs, in some of its rows."""
    (x0, y0), (x1, y1) = edge if edge[0][1] <= edge[1][1] else edge[::-1]
    first, last = max(floor(y0), int(within[1])), min(max(ceil(y1), floor(y0) + 1), int(within[3]))
    for row in range(first, last):
        a, b = x0, x1
        if y1 > y0:
            a = x0 + (x1 - x0) * (max(row, y0) - y0) / (y1 - y0)
            b = x0 + (x1 - x0) * (min(row + 1, y1) - y0) / (y1 - y0)
        for column in range(floor(min(a, b)), max(ceil(max(a, b)), floor(min(a, b)) + 1)):
            yield column, row


def _covered(solids: Sequence[Solid], pixel: Box) -> float:
    """The area of a pixel that lies in any solid, in slabs between all corners and crossings."""
    here = []
    for solid in (solid.within(pixel) for solid in solids):
        if solid.polygons and not any(area(hole) > ALL for hole in solid.holes):
            if not solid.holes and any(area(points) > ALL for points in solid.polygons):
                return 1.0
            here.append(solid)
    every = [points for solid in here for points in (*solid.polygons, *solid.holes)]
    edges = [edge for points in every for edge in _slanted(points)]
    levels = {y for points in every for _, y in points}
    levels |= {y for a, b in combinations(edges, 2) if (y := _crossing(a, b)) is not None}
    sum_ = 0.0
    for top, bottom in pairwise(sorted(levels)):
        middle = (top + bottom) / 2
        spans = [
            ([_span(p, middle) for p in solid.polygons], [_span(p, middle) for p in solid.holes])
            for solid in here
        ]
        ends = sorted({x for shapes, holes in spans for span in (*shapes, *holes) for x in span})
        for left, right in pairwise(ends):
            x = (left + right) / 2
            if any(_in(x, shapes) and not _in(x, holes) for shapes, holes in spans):
                sum_ += (right - left) * (bottom - top)
    return sum_


def _crossing(edge: Edge, other: Edge) -> float | None:
    """The height at which two edges cross, if they do."""
    (ax, ay), (bx, by) = edge
    (cx, cy), (dx, dy) = other
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    turn = ux * vy - uy * vx
    if not turn:
        return None
    t = ((cx - ax) * vy - (cy - ay) * vx) / turn
    return ay + t * uy if 0 <= t <= 1 else None


def _span(points: Points, y: float) -> tuple[float, float]:
    """From where to where a convex polygon lies at a height; nothing if it does not."""
    xs = [
        x0 + (x1 - x0) * (y - y0) / (y1 - y0)
        for (x0, y0), (x1, y1) in pairwise((*points, points[0]))
        if min(y0, y1) <= y < max(y0, y1)
    ]
    return (min(xs), max(xs)) if xs else (0.0, 0.0)


def _in(x: float, spans: Iterable[tuple[float, float]]) -> bool:
    return any(begin < x < end for begin, end in spans)


def _clockwise(points: Points) -> Points:
    return points if area(points) > 0 else points[::-1]


def _clipped(polygons: Iterable[Points], box: Box) -> tuple[Points, ...]:
    parts = (clip_box(points, box) for points in polygons)
    return tuple(points for points in parts if len(points) > 2)


def _meet(one: Bounds, other: Bounds) -> bool:
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]
