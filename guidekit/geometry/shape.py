"""The shape of one panel: its outline, the inside of its border, its rounded corners."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from guidekit.errors import InputError, Key, Problem
from guidekit.geometry.butted import Butted, PanelSide
from guidekit.geometry.page import Border, Panel
from guidekit.plane.box import Box, Edge
from guidekit.plane.outline import Outline, points_of
from guidekit.plane.polygon import Point, Side, area, clip_all, corners, rounded, side_at


@dataclass(frozen=True)
class Reach:
    """How far a panel reaches: what of `limits` lies on the good side of all `cuts`.

    The limits lie at the edge of the bleed on the edges named by `bleed`; `butted` says where the
    panel shares its border with others.
    """

    limits: Box
    cuts: tuple[Side, ...] = ()
    bleed: frozenset[Edge] = frozenset()
    butted: Butted = field(default_factory=Butted)

    def moved(self, inward: Callable[[PanelSide], float]) -> Reach:
        """The same with each side moved inward by so many pixels, outward if negative."""
        limits = Box(
            self.limits.left + int(inward("left")),
            self.limits.top + int(inward("top")),
            self.limits.right - int(inward("right")),
            self.limits.bottom - int(inward("bottom")),
        )
        cuts = tuple(cut.moved(inward(cut)) for cut in self.cuts)
        return replace(self, limits=limits, cuts=cuts)

    def sharp(self) -> Outline | None:
        """The outline with its corners as they are; None if nothing is left of it."""
        if self.limits.is_empty:
            return None
        if not self.cuts:
            return self.limits
        points = clip_all(corners(self.limits), self.cuts)
        if len(points) < 3 or area(points) < 1:
            return None
        return self.limits if set(points) == set(corners(self.limits)) else points

    def rounded(self, radius: int) -> Outline | None:
        """The outline with round corners but for those at the bleed; None if one has no room."""
        outline = self.sharp()
        if not radius or not outline:
            return outline
        ends = [side_at(self.limits, edge) for edge in self.bleed]

        def at_the_end(point: Point) -> bool:
            return any(abs(end.beyond(point)) < 1e-6 for end in ends)

        return rounded(points_of(outline), radius, at_the_end) or None


@dataclass(frozen=True)
class Look:
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
    outline = reach.rounded(look.radius)
    if not outline:
        came = f"corners of {look.radius} px are too large for {_size(reach.limits)}"
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
        came = f"{weight} px of border leave nothing of {_size(reach.limits)}"
        allowed = "less than half of the panel's shorter side"
        todo = "Take a thinner border or a larger panel."
        raise InputError(Problem((*key, "border"), came, allowed, todo))
    within = reach.moved(inward)
    inner = within.rounded(max(0, look.radius - weight)) or within.sharp()
    outer = None
    if against.sides:
        outer = reach.moved(outward).rounded(look.radius)
    return Border(outer or outline, inner, weight)


def _size(box: Box) -> str:
    return f"{box.width} × {box.height} px"
