"""How far a panel reaches: to the bleed, into a gutter, or against a neighbour."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from guidekit.errors import InputError, Problem, one_of
from guidekit.geometry.arrange import Placed
from guidekit.geometry.page_boxes import PageBoxes
from guidekit.issue.panel_model import PanelModel
from guidekit.plane.box import Box
from guidekit.plane.polygon import Side
from guidekit.units import Length, half_up

EDGES = ("left", "top", "right", "bottom")


@dataclass(frozen=True)
class Setting:
    """What holds for the panels of one page: its boxes, the fold's side, border and corners.

    `gap` is the margin round an inset that names none, in pixels.
    """

    boxes: PageBoxes
    flip: bool
    dpi: int
    border: int
    radius: int
    gap: int

    def px(self, length: Length) -> int:
        """A length in whole pixels."""
        return half_up(length.px(self.dpi))

    def weight(self, border: bool | Length) -> int:
        """The weight of a border that is switched on or off, or given as a length."""
        if isinstance(border, Length):
            return max(1, self.px(border)) if border.value else 0
        return self.border if border else 0


def bled(
    place: Placed, model: PanelModel, frame: Box, setting: Setting, where: str
) -> tuple[Box, tuple[str, ...]]:
    """The panel's limits run out to the bleed, and the sides on which they are."""
    limits = place.limits
    touching = touching_edges(place, frame)
    if model.bleed == ("all",):
        sides = touching
    else:
        sides = set().union(*(_named_edges(s, touching, setting, where) for s in model.bleed))
    bleed = setting.boxes.bleed
    return replace(limits, **{side: getattr(bleed, side) for side in sides}), tuple(sorted(sides))


def touching_edges(place: Placed, frame: Box) -> set[str]:
    """The straight edges of a panel that lie at the edge of the frame."""
    return {
        edge
        for edge in EDGES
        if getattr(place.limits, edge) == getattr(place.box, edge) == getattr(frame, edge)
    }


def _named_edges(side: str, touching: set[str], setting: Setting, where: str) -> set[str]:
    """The edges of the canvas that a trade name means here: ``outside`` → ``right``."""
    names = {"top": ["top"], "bottom": ["bottom"], "inside": ["left"], "outside": ["right"]}
    if setting.flip:
        names |= {"inside": ["right"], "outside": ["left"]}
    if setting.boxes.fold is not None:  # its outside is at both ends, the fold in the middle
        names |= {"inside": [], "outside": ["left", "right"]}
    if found := touching.intersection(names[side]):
        return found
    possible = [name for name, edges in names.items() if touching.intersection(edges)]
    raise InputError(
        Problem(
            f"{where}.bleed",
            f'"{side}", but no edge of the panel lies there at the edge of the frame',
            f"{one_of(possible)} for this panel" if possible else "no side of this panel",
            "Choose a side that is at the edge of the page.",
        )
    )


def broken_out(
    place: Placed, limits: Box, model: PanelModel, frame: Box, setting: Setting, where: str
) -> Box:
    """The limits moved out into the gutters."""
    moved = {}
    outside = touching_edges(place, frame)
    for edge in EDGES:
        if length := getattr(model.break_out, edge):
            if edge in outside or getattr(limits, edge) != getattr(place.box, edge):
                raise InputError(
                    Problem(
                        f"{where}.break_out.{edge}",
                        "this side is slanted, or at the edge of the page",
                        "a straight side with a gutter beyond it",
                    )
                )
            out = -setting.px(length) if edge in ("left", "top") else setting.px(length)
            moved[edge] = getattr(limits, edge) + out
    return replace(limits, **moved)


@dataclass(frozen=True)
class Butted:
    """Where a panel lies against a neighbour without a gutter: its edges, and its slanted cuts.

    One border serves both panels. Each rules all of it, half on either side of the common edge, so
    that the line goes on where only one of them has a neighbour.
    """

    edges: frozenset[str] = frozenset()
    cuts: frozenset[Side] = frozenset()

    def inward(self, side: str | Side, weight: int) -> int:
        """How much of a border lies inside the panel on an edge or a cut."""
        if side not in self.edges and side not in self.cuts:
            return weight
        if isinstance(side, Side):
            before = side.a > 0 or (side.a == 0 and side.b > 0)
        else:
            before = side in ("right", "bottom")
        return weight // 2 if before else weight - weight // 2


def butted(place: Placed, placed: Sequence[Placed]) -> Butted:
    """The edges and cuts of a panel that another one lies against."""
    box, edges = place.limits, set()
    for other in placed:
        o = other.limits
        if min(o.bottom, box.bottom) > max(o.top, box.top):
            edges |= {"left"} if o.right == box.left else set()
            edges |= {"right"} if o.left == box.right else set()
        if min(o.right, box.right) > max(o.left, box.left):
            edges |= {"top"} if o.bottom == box.top else set()
            edges |= {"bottom"} if o.top == box.bottom else set()
    theirs = {cut.flipped() for other in placed for cut in other.cuts}
    return Butted(frozenset(edges), frozenset(place.cuts) & theirs)
