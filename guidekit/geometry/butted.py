"""Panels that lie against each other without a gutter, and the one border they share."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from guidekit.geometry.region import Region
from guidekit.plane.box import Box, Edge
from guidekit.plane.meeting import meeting
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


def butted(regions: Sequence[Region]) -> list[Butted]:
    """For each panel its edges and cuts that another one lies against."""
    edges: list[set[Edge]] = [set() for _ in regions]
    for a, b in meeting([region.limits for region in regions]):
        edges[a].update(_edges_against(regions[a].limits, regions[b].limits))
        edges[b].update(_edges_against(regions[b].limits, regions[a].limits))
    theirs = {cut.flipped() for region in regions for cut in region.cuts}
    return [
        Butted(frozenset(own), frozenset(theirs.intersection(region.cuts)))
        for own, region in zip(edges, regions, strict=True)
    ]


def _edges_against(box: Box, other: Box) -> Iterator[Edge]:
    """The edges of a box along which another one lies."""
    if min(other.bottom, box.bottom) > max(other.top, box.top):
        if other.right == box.left:
            yield "left"
        if other.left == box.right:
            yield "right"
    if min(other.right, box.right) > max(other.left, box.left):
        if other.bottom == box.top:
            yield "top"
        if other.top == box.bottom:
            yield "bottom"
