"""Cells of a grid, and what lies between them, as one polygon."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from guidekit.plane.polygon import Point, Points

Span = tuple[int, int]  # where a column or row begins and ends, in pixels


def around_cells(
    cells: frozenset[tuple[int, int]], columns: Sequence[Span], rows: Sequence[Span]
) -> Points:
    """The corners of (column, row) cells that join along edges, from the upper left, clockwise.

    What lies between two cells is in it, and what lies between four.
    """
    filled = {
        (2 * x + i, 2 * y + j)
        for x, y in cells
        for i, j in ((0, 0), (0, 1), (1, 0), (1, 1))
        if {(x, y), (x + i, y), (x, y + j), (x + i, y + j)} <= cells
    }
    lines = [edge for column in columns for edge in column], [edge for row in rows for edge in row]
    after = {  # where each edge between filled and not filled leads, the filled side on its right
        begin: end
        for x, y in filled
        for out, begin, end in (
            ((x, y - 1), (x, y), (x + 1, y)),
            ((x + 1, y), (x + 1, y), (x + 1, y + 1)),
            ((x, y + 1), (x + 1, y + 1), (x, y + 1)),
            ((x - 1, y), (x, y + 1), (x, y)),
        )
        if out not in filled
    }
    here = start = min(after, key=lambda place: place[::-1])
    way = [start]
    while (here := after[here]) != start:
        way.append(here)
    return _without_idle([(lines[0][x], lines[1][y]) for x, y in way])


def _without_idle(points: Sequence[Point]) -> Points:
    """The corners without those at which nothing turns."""
    some = [p for p, q in pairwise([*points, points[0]]) if p != q]
    around = zip([some[-1], *some], some, [*some[1:], some[0]], strict=False)
    return tuple(q for p, q, r in around if (p[0] == q[0]) != (q[0] == r[0]))
