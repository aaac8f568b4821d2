"""Panels that lie against each other without a gutter, and the one border they share."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from guidekit.geometry.arrange import Placed
from guidekit.geometry.region import Region
from guidekit.plane.box import Edge
from guidekit.plane.polygon import Side


@dataclass(frozen=True)
class Butted:
    """Where a panel lies against a neighbour without a gutter: its edges, and its slanted cuts.

    One border serves both panels. Each rules all of it, half on either side of the common edge, so
    that the line goes on where only one of them has a neighbour.
    """

    edges: frozenset[Edge] = frozenset()
    cuts: frozenset[Side] = frozenset()

    def inward(self, side: Edge | Side, weight: int) -> int:
        """How much of a border lies inside the panel on an edge or a cut."""
        if side not in self.edges and side not in self.cuts:
            return weight
        if isinstance(side, Side):
            before = side.a > 0 or (side.a == 0 and side.b > 0)
        else:
            before = side in ("right", "bottom")
        return weight // 2 if before else weight - weight // 2


def butted(region: Region, placed: Sequence[Placed]) -> Butted:
    """The edges and cuts of a panel that another one lies against."""
    box = region.limits
    edges: set[Edge] = set()
    for other in placed:
        o = other.region.limits
        if min(o.bottom, box.bottom) > max(o.top, box.top):
            edges |= {"left"} if o.right == box.left else set()
            edges |= {"right"} if o.left == box.right else set()
        if min(o.right, box.right) > max(o.left, box.left):
            edges |= {"top"} if o.bottom == box.top else set()
            edges |= {"bottom"} if o.top == box.bottom else set()
    theirs = {cut.flipped() for other in placed for cut in other.region.cuts}
    return Butted(frozenset(edges), frozenset(region.cuts) & theirs)
