"""The shape of one panel: its outline, the inside of its border, its rounded corners."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import NamedTuple

from guidekit.errors import InputError, Key, Problem
from guidekit.geometry.division.region import Region
from guidekit.geometry.page import Border, Panel
from guidekit.geometry.panels.butted import Butted, PanelSide
from guidekit.plane.bend import Bend
from guidekit.plane.box import Box, Edge
from guidekit.plane.corners import rounded
from guidekit.plane.cuts import Cut, cut_out
from guidekit.plane.outline import Outline, points_of, size_of
from guidekit.plane.polygon import (
    Point,
    Points,
    area,
    corners,
    edges_by_side,
    side_at,
    sides_of,
    turning,
)
from guidekit.plane.rings import Rings, softened, within
from guidekit.plane.sides import moved


@dataclass(frozen=True)
class Reach:
    """How far a panel reaches: what of `limits` lies on the good side of all `cuts`.

    The limits lie at the edge of the bleed on the edges named by `bleed`; `butted` says where the
    panel shares its border with others. Where its `shape` is another than that of the limits, it
    fills them.
    """

    limits: Box
    cuts: tuple[Cut, ...] = ()
    bleed: frozenset[Edge] = frozenset()
    butted: Butted = field(default_factory=Butted)
    shape: Rings | None = None

    @classmethod
    def of(cls, region: Region, limits: Box, bleed: frozenset[Edge], against: Butted) -> Reach:
        """What fills a region whose limits are moved, as far as its gutters allow."""
        shape = (stretched(region.shape, region.limits, limits),) if region.shape else None
        return cls(limits, region.cuts, bleed, against, shape)

    def moved(self, inward: Callable[[PanelSide], float]) -> Reach:
        """The same with each side moved inward by so many pixels, outward if negative."""
        limits = Box(
            self.limits.left + int(inward("left")),
            self.limits.top + int(inward("top")),
            self.limits.right - int(inward("right")),
            self.limits.bottom - int(inward("bottom")),
        )
        cuts = tuple(cut.moved(inward(cut)) for cut in self.cuts)
        shape = self.shape
        if shape is not None:
            edges = edges_by_side(self.limits)
            lines = ((ring, sides_of(ring)) for ring in shape)
            found = (
                moved(ring, [inward(edges.get(side, side)) for side in sides])
                for ring, sides in lines
            )
            shape = tuple(ring for rings in found for ring in rings)
        return replace(self, limits=limits, cuts=cuts, shape=shape)

    @cached_property
    def pieces(self) -> Rings:
        """What is left of it between its gutters, in one piece or several."""
        return cut_out(self.limits if self.shape is None else self.shape, self.cuts)

    def sharp(self) -> Outline | None:
        """The outline with its corners as they are; None if nothing is left of it."""
        if self.limits.is_empty:
            return None
        if not self.cuts and self.shape is None:
            return self.limits
        points = turning(max(self.pieces, key=area, default=()))
        if len(points) < 3 or area(points) < 1:
            return None
        return self.limits if set(points) == set(corners(self.limits)) else points

    def rounded(self, radius: int, dents: int | None = None) -> Outline | None:
        """The outline with round corners but for those at the bleed; None if one has no room.

        Corners that point inward have the radius `dents`, by default the same.
        """
        outline, dents = self.sharp(), radius if dents is None else dents
        if not max(radius, dents) or not outline:
            return outline
        if any(isinstance(cut, Bend) for cut in self.cuts):
            return self._softened(radius, dents)
        ends = [side_at(self.limits, edge) for edge in self.bleed]

        def at_the_end(point: Point) -> bool:
            return any(abs(end.beyond(point)) < 1e-6 for end in ends)

        return rounded(points_of(outline), radius, at_the_end, dents) or None

    def _stretched(self, limits: Box) -> Rings:
        """The shape in other limits."""
        return tuple(stretched(ring, self.limits, limits) for ring in self.shape or ())

    def _softened(self, radius: int, dents: int) -> Outline | None:
        """The same where sides are bent: what lies beyond the bleed keeps the corners there."""
        far = 4 * max(radius, dents)
        beyond = {edge: -far if edge in ("left", "top") else far for edge in self.bleed}
        limits = replace(
            self.limits, **{edge: getattr(self.limits, edge) + by for edge, by in beyond.items()}
        )
        wider = limits if self.shape is None else self._stretched(limits)
        whole = softened(cut_out(wider, self.cuts), radius, dents)
        return max(within(whole, (corners(self.limits),)), key=area, default=None)


class Look(NamedTuple):
    """The weight of a panel's border, 0 for none, and the radius of its corners, in pixels."""

    weight: int
    radius: int


def shaped(number: int, reach: Reach, look: Look, key: Key) -> Panel:
    """The panel of this number, to which `key` leads on its page; raises `InputError`."""
    sharp = reach.sharp()
    if not sharp:
        came = "slanted gutters leave nothing of this panel"
        todo = "Lean the gutters less, or give the panel a larger share."
        raise InputError(Problem(key, came, "a panel of at least 1 px", todo))
    if len(reach.pieces) > 1:
        came = f"gutters that lean or bend divide this panel into {len(reach.pieces)} pieces"
        todo = "Lean or bend them less, or give the panel a larger share."
        raise InputError(Problem(key, came, "a panel in one piece", todo))
    outline = reach.rounded(look.radius)
    if not outline:
        came = f"corners of {look.radius} px are too large for {size_of(reach.limits)}"
        allowed = "at most half of the shortest side"
        todo = f"Take a smaller radius, {allowed}."
        raise InputError(Problem((*key, "radius"), came, allowed, todo))
    border = _border(reach, look, outline, key) if look.weight else None
    return Panel(number, outline, sharp, look.radius, border, reach.bleed)


def _border(reach: Reach, look: Look, outline: Outline, key: Key) -> Border:
    weight, against = look.weight, reach.butted

    def inward(side: PanelSide) -> float:
        if side in reach.bleed:
            return -weight  # ruled beyond the canvas, so to speak
        return against.inward(side, weight)

    def outward(side: PanelSide) -> float:
        return against.inward(side, weight) - weight

    across, down = reach.limits.width, reach.limits.height
    if across <= inward("left") + inward("right") or down <= inward("top") + inward("bottom"):
        came = f"{weight} px of border leave nothing of {size_of(reach.limits)}"
        allowed = "less than half of the panel's shorter side"
        todo = "Take a thinner border or a larger panel."
        raise InputError(Problem((*key, "border"), came, allowed, todo))
    inside = reach.moved(inward)
    if len(inside.pieces) > 1:
        came = f"{weight} px of border close a narrow place of this panel"
        todo = "Take a thinner border, or make the panel wider there."
        raise InputError(Problem((*key, "border"), came, "less than half of its width there", todo))
    dents = look.radius + weight if look.radius else 0
    inner = inside.rounded(max(0, look.radius - weight), dents) or inside.sharp()
    outer = None
    if against.sides:
        outer = reach.moved(outward).rounded(look.radius)
    return Border(outer or outline, inner, weight)


def stretched(points: Points, limits: Box, to: Box) -> Points:
    """A shape whose corners on the edges of its limits are moved with these."""
    across = {limits.left: to.left, limits.right: to.right}
    down = {limits.top: to.top, limits.bottom: to.bottom}
    return tuple((across.get(int(x), x), down.get(int(y), y)) for x, y in points)
