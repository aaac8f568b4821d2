"""Panels as shapes: what is seen of them and of their borders, and what lies between them.

Where all edges are level and upright, boxes with holes say it to the pixel. Else what is seen is
worked out in the plane first, so that no two shapes of a layer share a pixel that neither fills.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from guidekit.geometry.page import Border, Panel
from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline
from guidekit.plane.rings import Rings, rings_of, united, without
from guidekit.raster.shapes import Area, Polygon, Rule, Shape, Solid, outline


def shape_of(outline: Outline) -> Shape:
    """A box or polygon, filled."""
    return Rule(outline) if isinstance(outline, Box) else Polygon(outline)


@remembered
def panel_area(panel: Panel) -> Shape:
    """All of a panel that is not under another one, with the figures that break out of it."""
    if not panel.cut_out and not panel.figures:
        return shape_of(panel.outline)
    if _is_plain(panel):
        return Area((shape_of(panel.outline),), tuple(map(shape_of, panel.cut_out)))
    return Solid(_seen(panel))


@remembered
def outside_panels(
    boxes: tuple[Box, ...], panels: tuple[Panel, ...], empty: tuple[Outline, ...] = ()
) -> Shape:
    """All that lies in some of the boxes, in no panel and in no place that is empty."""
    if all(map(_is_plain, panels)) and _are_boxes(empty):
        holes = (*map(panel_area, panels), *map(shape_of, empty))
        return Area(tuple(map(Rule, boxes)), holes)
    return Solid(without(rings_of(boxes), *map(_seen, panels), rings_of(empty)))


@remembered
def borders_of(panels: tuple[Panel, ...]) -> tuple[Shape, ...]:
    """The ruled lines round panels, inside their outlines.

    Where panels lie against each other they share lines: all that are not boxes are one shape.
    """
    shapes: list[Shape] = []
    free: list[Rings] = []
    shared = False
    for panel in panels:
        if not (border := panel.border):
            continue
        if _is_plain(panel) and _are_boxes((border.outer, border.inner)):
            shapes += _boxes_of_border(border, panel)
            continue
        figures = (figure.outline for figure in panel.figures)
        holes = (hole for hole in (border.inner, *panel.cut_out, *figures) if hole)
        rings = without(rings_of([border.outer]), *(rings_of([hole]) for hole in holes))
        free += [rings] if rings else []
        shared |= border.outer != panel.outline
    if shared and free:
        free = [united(tuple(ring for rings in free for ring in rings))]
    return (*shapes, *map(Solid, free))


def _boxes_of_border(border: Border, panel: Panel) -> Iterator[Shape]:
    outer, inner = border.outer, border.inner
    if isinstance(outer, Box) and isinstance(inner, Box) and not panel.cut_out and not panel.bleed:
        weight = inner.left - outer.left
        if outer.inset(weight) == inner:
            yield from outline(outer, weight)
            return
    holes = (hole for hole in (inner, *panel.cut_out) if hole)
    yield Area((shape_of(outer),), tuple(map(shape_of, holes)))


@remembered
def _seen(panel: Panel) -> Rings:
    return without(rings_of(panel.parts), *(rings_of([hole]) for hole in panel.cut_out))


def _is_plain(panel: Panel) -> bool:
    return not panel.figures and _are_boxes((panel.outline, *panel.cut_out))


def _are_boxes(outlines: Iterable[Outline | None]) -> bool:
    return all(outline is None or isinstance(outline, Box) for outline in outlines)
