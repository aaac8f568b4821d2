"""The shape of one panel: its outline, the inside of its border, its rounded corners."""

from __future__ import annotations

from collections.abc import Mapping

from guidekit.errors import InputError, Problem
from guidekit.geometry.arrange import Placed
from guidekit.geometry.edges import EDGES, Butted, Setting
from guidekit.geometry.page import Border, Panel
from guidekit.geometry.perspective import view_in
from guidekit.issue.panel_model import Inset, PanelModel
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline, box_of
from guidekit.plane.polygon import Point, Side, area, clip_all, corners, rounded


def shaped(
    place: Placed,
    limits: Box,
    bleed: tuple[str, ...],
    model: PanelModel | Inset,
    setting: Setting,
    where: str,
    against: Butted,
) -> Panel:
    """A panel inside `limits`, which reach out to the bleed on the sides that `bleed` names.

    `against` says where it shares its border with the panel before it. Raises `InputError` led by
    `where`.
    """
    radius = setting.radius if model.radius is None else setting.px(model.radius)
    weight = setting.weight(model.border)
    outline = _outline(limits, place.cuts, radius, bleed, where)
    border = None
    if weight:
        inside = {edge: against.inward(edge, weight) for edge in EDGES}
        inside |= dict.fromkeys(bleed, -weight)  # ruled beyond the canvas, so to speak
        room = _inset(limits, inside)
        if room.is_empty:
            raise InputError(
                Problem(
                    f"{where}.border",
                    f"{weight} px leave nothing of a panel of {limits.width} × {limits.height} px",
                    "less than half of the panel's shorter side",
                    "Take a thinner border or a larger panel.",
                )
            )
        cuts = tuple(cut.moved(against.inward(cut, weight)) for cut in place.cuts)
        inner = _outline(room, cuts, max(0, radius - weight), bleed, where, strict=False)
        outer = outline
        if against.edges or against.cuts:
            out = {edge: against.inward(edge, weight) - weight for edge in EDGES}
            cuts = tuple(cut.moved(against.inward(cut, weight) - weight) for cut in place.cuts)
            outer = _outline(_inset(limits, out), cuts, radius, bleed, where)
        border = Border(outer, inner or None)
    perspective = model.perspective if isinstance(model, PanelModel) else None
    view = None
    if perspective:
        view = view_in(place.box, perspective, setting.dpi, f"{where}.perspective")
    return Panel(
        place.number,
        box_of(outline),
        outline,
        _outline(limits, place.cuts, 0, bleed, where) if radius else outline,
        border,
        bleed,
        radius=radius,
        view=view,
    )


def _inset(box: Box, by: Mapping[str, int]) -> Box:
    """A box with each edge moved inward by so many pixels, outward if negative."""
    return Box(
        box.left + by.get("left", 0),
        box.top + by.get("top", 0),
        box.right - by.get("right", 0),
        box.bottom - by.get("bottom", 0),
    )


def _outline(
    limits: Box,
    cuts: tuple[Side, ...],
    radius: int,
    bleed: tuple[str, ...],
    where: str,
    strict: bool = True,
) -> Outline:
    """A box where it is one, else a polygon; raises `InputError` if nothing is left of it."""
    points = clip_all(corners(limits), cuts)
    if len(points) < 3 or area(points) < 1:
        if not strict:
            return ()
        raise InputError(
            Problem(
                where,
                "slanted gutters leave nothing of this panel",
                "a panel of at least 1 px",
                "Lean the gutters less, or give the panel a larger share.",
            )
        )
    if not radius:
        return limits if set(points) == set(corners(limits)) else points

    def sharp(point: Point) -> bool:
        return any(
            abs(point[edge in ("top", "bottom")] - getattr(limits, edge)) < 1e-6 for edge in bleed
        )

    curved = rounded(points, radius, sharp)
    if curved:
        return curved
    if not strict:
        return points
    raise InputError(
        Problem(
            f"{where}.radius",
            f"corners of {radius} px in a panel of {limits.width} × {limits.height} px",
            "at most half of the shortest side",
            "Take a smaller radius.",
        )
    )
