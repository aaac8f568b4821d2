"""What holds between the panels of a page: gutters, the fold's side, the rule for spare pixels."""

from __future__ import annotations

from dataclasses import dataclass, replace

from guidekit.geometry.division.divide import PartsInRow, divide
from guidekit.issue.tree import Axis, Diagonals, Grid, Split
from guidekit.plane.cells import Span
from guidekit.preset.sizes import Gutter
from guidekit.units import Length, half_up


@dataclass(frozen=True)
class Spacing:
    """Gutters, resolution, and whether spare pixels are left to the margin (`exact`).

    `flip` says that the fold is on the right: everything across is then computed from the right,
    so that the same panels on the facing page are the exact mirror image.
    """

    gutter: Gutter
    dpi: int
    exact: bool = False
    flip: bool = False

    def gap(self, axis: Axis, length: Length | None = None) -> int:
        """A gutter in whole pixels: this length, or the gutter that holds all round."""
        own = self.gutter.across if axis == "across" else self.gutter.down
        return half_up((length or own).px(self.dpi))

    def within(self, node: Split | Grid | Diagonals) -> Spacing:
        """What holds inside `node`."""
        return replace(self, gutter=node.gutter) if node.gutter else self

    def row_of(self, node: Split) -> PartsInRow:
        """The parts of a split and the gutters between them."""
        given = node.gaps or (None,) * (len(node.parts) - 1)
        return PartsInRow(node.shares, tuple(self.gap(node.axis, x) for x in given), node.parts_key)

    def tracks_of(self, node: Grid, axis: Axis) -> PartsInRow:
        """The columns of a grid, or its rows."""
        shares, name = (node.columns, "widths") if axis == "across" else (node.rows, "heights")
        if len(set(shares)) == 1:
            name = "map"  # which has no shares of its own
        return PartsInRow(shares, (self.gap(axis),) * (len(shares) - 1), (*node.key, name))

    def spans(self, axis: Axis, total: int, row: PartsInRow) -> list[Span]:
        """Where the parts of a row along an axis lie, from 0 to `total`; raises `InputError`."""
        if axis == "down" or not self.flip:
            return divide(total, row, self.dpi)
        backward = divide(total, row.reversed(), self.dpi)
        return [(total - end, total - begin) for begin, end in reversed(backward)]
