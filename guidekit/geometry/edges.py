"""How far a panel reaches: to the bleed, or into a gutter."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from guidekit.errors import InputError, Problem, one_of
from guidekit.geometry.page_boxes import PageBoxes
from guidekit.geometry.region import Region
from guidekit.geometry.setting import Setting
from guidekit.issue.panel_model import PanelModel
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
    return {"top": top, "bottom": bottom, "inside": inside, "outside": outside}


def running_out(
    region: Region, model: PanelModel, names: EdgesByName, where: str
) -> frozenset[Edge]:
    """The edges on which a panel runs out to the bleed; raises `InputError` led by `where`."""
    if model.bleed == ("all",):
        return region.ends
    edges: frozenset[Edge] = frozenset()
    for name in model.bleed:
        found = region.ends & names[name]
        if not found:
            possible = [other for other, there in names.items() if region.ends & there]
            raise InputError(
                Problem(
                    f"{where}.bleed",
                    f'"{name}", but no edge of the panel lies there at the edge of the frame',
                    f"{one_of(possible)} for this panel" if possible else "no side of this panel",
                    "Choose a side that is at the edge of the page.",
                )
            )
        edges |= found
    return edges


def broken_out(region: Region, limits: Box, model: PanelModel, setting: Setting, where: str) -> Box:
    """The limits moved out into the gutters; raises `InputError` led by `where`."""
    moved = {}
    for edge in EDGES:
        if length := getattr(model.break_out, edge):
            if edge in region.ends or getattr(limits, edge) != getattr(region.box, edge):
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
