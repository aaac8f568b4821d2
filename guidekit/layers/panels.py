"""Panels as shapes."""

from __future__ import annotations

from guidekit.geometry.page import Panel
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline
from guidekit.raster.shapes import Area, Polygon, Rule, Shape, outline


def shape_of(outline: Outline) -> Shape:
    """A box or polygon, filled."""
    return Rule(outline) if isinstance(outline, Box) else Polygon(outline)


def panel_area(panel: Panel) -> Shape:
    """All of a panel that is not under an inset."""
    shape = shape_of(panel.outline)
    return Area((shape,), tuple(map(shape_of, panel.cut_out))) if panel.cut_out else shape


def panel_border(panel: Panel) -> tuple[Shape, ...]:
    """The ruled line round a panel, inside its outline."""
    if panel.border is None:
        return ()
    outer, inner = panel.border.outer, panel.border.inner
    if isinstance(outer, Box) and isinstance(inner, Box) and not panel.cut_out and not panel.bleed:
        weight = inner.left - outer.left
        if outer.inset(weight) == inner:
            return outline(outer, weight)
    holes = (shape_of(inner),) if inner else ()
    return (Area((shape_of(outer),), (*holes, *map(shape_of, panel.cut_out))),)
