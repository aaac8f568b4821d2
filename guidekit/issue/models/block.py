"""Cells of a grid that one panel fills, or an empty place."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import NamedTuple

#: A cell by its column and its row, counted from 0.
Cell = tuple[int, int]


class CellRange(NamedTuple):
    """Columns and rows, half-open."""

    left: int
    top: int
    right: int
    bottom: int


@dataclass(frozen=True)
class Block:
    """The smallest `area` that holds some cells, and the `cells` themselves unless they fill it."""

    area: CellRange
    cells: frozenset[Cell] = frozenset()

    @classmethod
    def of(cls, cells: frozenset[Cell]) -> Block:
        """A block of these cells, which are some."""
        x, y = zip(*cells, strict=True)
        area = CellRange(min(x), min(y), max(x) + 1, max(y) + 1)
        fills = len(cells) == (area.right - area.left) * (area.bottom - area.top)
        return cls(area, frozenset() if fills else cells)

    def mirrored(self, columns: int) -> Block:
        """The same seen in a mirror, in a grid of so many columns."""
        left, top, right, bottom = self.area
        area = CellRange(columns - right, top, columns - left, bottom)
        return Block(area, frozenset((columns - 1 - x, y) for x, y in self.cells))


EDGES: tuple[Cell, ...] = ((-1, 0), (1, 0), (0, -1), (0, 1))
EDGES_AND_CORNERS = (*EDGES, (-1, -1), (1, -1), (-1, 1), (1, 1))


def joined(cells: Iterable[Cell], along: Sequence[Cell] = EDGES) -> Iterator[frozenset[Cell]]:
    """Cells in groups that join along edges (or as `along` says), by the first of each."""
    left = dict.fromkeys(cells)
    while left:
        found, border = set[Cell](), [next(iter(left))]
        while border:
            cell = border.pop()
            if cell in left:
                del left[cell]
                found.add(cell)
                border += [(cell[0] + x, cell[1] + y) for x, y in along]
        yield frozenset(found)


def surrounds(block: Block) -> bool:
    """True if the cells of a block, which join along edges, go all round others."""
    left, top, right, bottom = block.area
    others = product(range(left - 1, right + 1), range(top - 1, bottom + 1))
    apart = joined((cell for cell in others if cell not in block.cells), EDGES_AND_CORNERS)
    return bool(block.cells) and len([*apart]) > 1
