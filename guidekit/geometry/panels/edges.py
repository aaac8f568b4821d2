"""How far a panel reaches: to the bleed, or beyond its place."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from guidekit.errors import InputError, Key, Problem, one_of, shown
from guidekit.geometry.division.region import Region
from guidekit.geometry.page_boxes import PageBoxes
from guidekit.geometry.panels.setting import Setting
from guidekit.issue.models.panel import PanelModel
from guidekit.plane.box import EDGES, Box, Edge

#: The edges of a canvas by the names that the trade has for them.
EdgesByName = Mapping[str, frozenset[Edge]]


def edges_by_name(boxes: PageBoxes) -> EdgesByName:
    """Which edges of a canvas the trade names mean: ``outside`` of a right page is ``right``."""
    left, right = frozenset[Edge]({"left"}), frozenset[Edge]({"right"})
    inside, outside = (right, left) if boxes.flip else (left, right)
    if boxes.fold is not None:  # its outside is at both ends, the fold in the middle
        inside, outside = frozenset(), left | right
    top, bottom = frozenset[Edge]({"top"}), frozenset[Edge]({"bottom"})
    by_trade = {"top": top, "bottom": bottom, "inside": inside, "outside": outside}
    return by_trade | {"left": left, "right": right}


def running_out(
    region: Region, sides: Sequence[str], names: EdgesByName, key: Key
) -> frozenset[Edge]:
    """The edges on which a panel runs out to the bleed; raises `InputError`.

    `key` leads to the `sides` that the page names for the panel, each of which it must have.
    """
    for name in sides:
        if not region.ends & _named(name, names):
            raise InputError(_no_end(name, region, names, key))
    return at_the_edge(region, sides, names)


def at_the_edge(region: Region, sides: Sequence[str], names: EdgesByName) -> frozenset[Edge]:
    """Those edges of a panel at the edge of the page that are among these sides."""
    return region.ends & {edge for name in sides for edge in _named(name, names)}


def _named(name: str, names: EdgesByName) -> frozenset[Edge]:
    return names.get(name, frozenset(EDGES))  # "all" is not in names


def _no_end(name: str, region: Region, names: EdgesByName, key: Key) -> Problem:
    """What is said of a side at which no edge of the panel is at the edge of the page."""
    unlike = ("inside", "outside") if name in ("left", "right") else ("left", "right")
    possible = [
        other for other, edges in names.items() if region.ends & edges and other not in unlike
    ]
    came = "this panel lies nowhere at the edge of the page"
    if name in names:
        came = f"{shown(name)} is not a side on which this panel lies at the edge of the page"
    allowed = one_of(map(shown, possible)) if possible else "no side of this panel"
    todo = "" if possible else "Leave bleed out, for it has none."
    return Problem(key, came, allowed, todo)


def broken_out(region: Region, limits: Box, model: PanelModel, setting: Setting, key: Key) -> Box:
    """The limits moved out into gutters, neighbours and margins; raises `InputError`."""
    moved = {}
    for edge in EDGES:
        if length := getattr(model.break_out, edge):
            if getattr(limits, edge) != getattr(region.box, edge):
                came = "this side is slanted, or runs to the bleed"
                allowed = "a straight side that does not"
                problem = Problem((*key, "break_out", edge), came, allowed, f"Take {allowed}.")
                raise InputError(problem)
            out = -setting.px(length) if edge in ("left", "top") else setting.px(length)
            moved[edge] = getattr(limits, edge) + out
    return replace(limits, **moved)
