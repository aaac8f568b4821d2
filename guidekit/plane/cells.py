"""Cells of a grid, and what lies between them, as one polygon."""

from __future__ import annotations

from collections.abc import Sequence

from guidekit.plane.polygon import Points, turning

Span = tuple[int, int]  # where a part, column or row begins and ends, in pixels


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
    return turning(tuple((lines[0][x], lines[1][y]) for x, y in way))
