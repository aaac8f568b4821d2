"""The shape of one panel: its outline, the inside of its border, its rounded corners."""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, floor

from guidekit.errors import InputError, Problem
from guidekit.geometry.arrange import Placed
from guidekit.geometry.box import Box
from guidekit.geometry.convex import Point, Side, area, clip_all, corners, rounded
from guidekit.geometry.edges import EDGES, Setting
from guidekit.geometry.page import Outline, Panel
from guidekit.geometry.perspective import view_in
from guidekit.issue.panel_model import Inset, PanelModel


def shaped(
    place: Placed,
    limits: Box,
    bleed: tuple[str, ...],
    model: PanelModel | Inset,
    setting: Setting,
    where: str,
    butted: Mapping[str, str],
) -> Panel:
    """A panel inside `limits`, which reach out to the bleed on the sides that `bleed` names.

    `butted` are the sides that lie against a neighbour (`near` or `far`), where each of the two
    rules its half of one border. Raises `InputError` led by `where`.
    """
    radius = setting.radius if model.radius is None else setting.px(model.radius)
    weight = setting.weight(model.border)
    outline = _outline(limits, place.cuts, radius, bleed, where)
    inner = None
    if weight:
        weights = {edge: weight for edge in EDGES}
        weights |= {edge: -weight for edge in bleed}  # ruled beyond the canvas, so to speak
        for edge, half in butted.items():
            weights[edge] = weight // 2 if half == "near" else weight - weight // 2
        inside = Box(
            limits.left + weights["left"],
            limits.top + weights["top"],
            limits.right - weights["right"],
            limits.bottom - weights["bottom"],
        )
        moved = tuple(side.moved(weight) for side in place.cuts)
        within = max(0, radius - weight)
        if inside.is_empty:
            raise InputError(
                Problem(
                    f"{where}.border",
                    f"{weight} px leave nothing of a panel of {limits.width} × {limits.height} px",
                    "less than half of the panel's shorter side",
                    "Take a thinner border or a larger panel.",
                )
            )
        inner = _outline(inside, moved, within, bleed, where, strict=False)
    perspective = model.perspective if isinstance(model, PanelModel) else None
    view = None
    if perspective:
        view = view_in(place.box, perspective, setting.dpi, f"{where}.perspective")
    return Panel(place.number, _box_of(outline), outline, inner, bleed, view=view)


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


def _box_of(outline: Outline) -> Box:
    if isinstance(outline, Box):
        return outline
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    e = 1e-6
    return Box(floor(min(xs) + e), floor(min(ys) + e), ceil(max(xs) - e), ceil(max(ys) - e))
