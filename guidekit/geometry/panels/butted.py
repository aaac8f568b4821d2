"""Panels that lie against each other without a gutter, and the one border they share."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterator, Mapping
from typing import NamedTuple, TypeVar

from guidekit.geometry.division.region import Region
from guidekit.plane.bend import Bend
from guidekit.plane.box import Edge
from guidekit.plane.cuts import Cut
from guidekit.plane.polygon import HalfPlane, Points, edges_by_side, sides_of

#: A side of a panel: an edge of its limits, one of its cuts, or another side of its shape.
PanelSide = Edge | Cut
Key = TypeVar("Key", bound=Hashable)
#: Edges by the direction in which they face.
LEVEL: dict[tuple[float, float], Edge] = {
    (-1, 0): "left", (0, -1): "top", (1, 0): "right", (0, 1): "bottom"
}  # fmt: skip
NEAR = 1e-6  # px by which rounding may part what lies together


class Butted(NamedTuple):
    """The sides on which a panel lies against a neighbour without a gutter.

    One border serves both panels. Each rules all of it, half on either side of the common edge, so
    that the line goes on where only one of them has a neighbour. `flip` is that of the page.
    """

    sides: frozenset[PanelSide] = frozenset()
    flip: bool = False

    def inward(self, side: PanelSide, weight: int) -> float:
        """How much of a border lies inside the panel on a side.

        Of an odd weight at an upright or level edge, the panel that is laid out first has the
        smaller half; on the facing page that is the same panel.
        """
        if side not in self.sides:
            return weight
        if isinstance(side, HalfPlane):
            side = LEVEL.get((side.a, side.b), side)
        if isinstance(side, (HalfPlane, Bend)):
            return weight / 2
        first = side in ("bottom", "left" if self.flip else "right")
        return weight // 2 if first else weight - weight // 2


def butted(regions: Mapping[Key, Region], flip: bool) -> dict[Key, Butted]:
    """For each panel the sides on which another one really lies against it."""
    found: dict[Key, set[PanelSide]] = {key: set() for key in regions}
    along: dict[Cut, list[tuple[Key, PanelSide]]] = defaultdict(list)
    for key, region in regions.items():
        for name, side in _sides(region):
            along[side].append((key, name))
    for side, here in along.items():
        turned = side.flipped()
        there = [_reach(regions[key].points, turned) for key, _ in along.get(turned, ())]
        for key, name in here if there else ():
            begin, end = _reach(regions[key].points, side)
            # seen from its other side a line runs the other way
            if any(min(end, -a) - max(begin, -b) > NEAR for a, b in there):
                found[key].add(name)
    return {key: Butted(frozenset(sides), flip) for key, sides in found.items()}


def _sides(region: Region) -> Iterator[tuple[PanelSide, Cut]]:
    """The sides that a panel may have, each with its line."""
    edges = edges_by_side(region.limits)
    yield from ((edge, side) for side, edge in edges.items())
    yield from ((cut, cut) for cut in region.cuts)
    yield from ((side, side) for side in dict.fromkeys(sides_of(region.shape)) if side not in edges)


def _reach(points: Points, side: Cut) -> tuple[float, float]:
    """From where to where a polygon lies along a line; two equal numbers if it does not."""
    if isinstance(side, Bend):
        return side.reach(points)
    on_it = [side.a * y - side.b * x for x, y in points if abs(side.beyond((x, y))) < NEAR]
    return (min(on_it), max(on_it)) if on_it else (0.0, 0.0)
