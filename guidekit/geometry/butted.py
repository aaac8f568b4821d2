"""Panels that lie against each other without a gutter, and the one border they share."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from typing import TypeVar

from guidekit.geometry.region import Region
from guidekit.plane.box import EDGES, Edge
from guidekit.plane.polygon import Points, Side, side_at

#: A side of a panel: an edge of its limits, or one of its slanted cuts.
PanelSide = Edge | Side
Key = TypeVar("Key", bound=Hashable)
NEAR = 1e-6  # px by which rounding may part what lies together


@dataclass(frozen=True)
class Butted:
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
        if isinstance(side, Side):
            return weight / 2
        first = side in ("bottom", "left" if self.flip else "right")
        return weight // 2 if first else weight - weight // 2


def butted(regions: Mapping[Key, Region], flip: bool) -> dict[Key, Butted]:
    """For each panel the sides on which another one really lies against it."""
    found: dict[Key, set[PanelSide]] = {key: set() for key in regions}
    along: dict[Side, list[tuple[Key, PanelSide, float, float]]] = defaultdict(list)
    for key, region in regions.items():
        sides: list[tuple[PanelSide, Side]] = [(e, side_at(region.limits, e)) for e in EDGES]
        sides += [(cut, cut) for cut in region.cuts]
        for name, side in sides:
            begin, end = _reach(region.points, side)
            if end - begin > NEAR:
                along[side].append((key, name, begin, end))
    for side, here in along.items():
        there = along.get(side.flipped(), ())
        for key, name, begin, end in here:
            # seen from its other side a line runs the other way
            if any(min(end, -a) - max(begin, -b) > NEAR for _, _, a, b in there):
                found[key].add(name)
    return {key: Butted(frozenset(sides), flip) for key, sides in found.items()}


def _reach(points: Points, side: Side) -> tuple[float, float]:
    """From where to where a polygon lies along a line; two equal numbers if it does not."""
    on_it = [side.a * y - side.b * x for x, y in points if abs(side.beyond((x, y))) < NEAR]
    return (min(on_it), max(on_it)) if on_it else (0.0, 0.0)
