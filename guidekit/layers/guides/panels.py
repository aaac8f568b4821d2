"""Guides of the panels: gutters, middle, thirds, diagonals, lettering."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from guidekit.geometry.page import Panel
from guidekit.layers.guides.kind import GuideInput
from guidekit.layers.guides.lines import level, upright
from guidekit.layers.panels import outside_panels, panel_area, shape_of
from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.raster.shapes import Clip, Rule, Shape, Stroke
from guidekit.units import half_up


def gutters(given: GuideInput) -> Iterator[Shape]:
    """A tint over the gaps between panels, and round places that are empty."""
    page = given.page
    if len(page.panels) + len(page.empty) > 1:
        yield outside_panels(page.frames, page.panels, page.empty)


def centre_lines(given: GuideInput) -> Iterator[Shape]:
    """The middle of each panel, across and down."""
    weight, dash = given.pen.weight, given.pen.dash(6, 2, 1, 2)
    for panel in given.page.panels:
        box = panel.box
        yield _inside(
            panel,
            upright((box.left + box.right) / 2, box.top, box.bottom, weight, dash),
            level((box.top + box.bottom) / 2, box.left, box.right, weight, dash),
        )


def thirds(given: GuideInput) -> Iterator[Shape]:
    """The thirds of each panel, either way."""
    weight, dash = given.pen.weight, given.pen.dash(3, 5)
    for panel in given.page.panels:
        box = panel.box
        lines = []
        for part in (1, 2):
            x = half_up(box.left + Fraction(box.width * part, 3))
            y = half_up(box.top + Fraction(box.height * part, 3))
            lines.append(upright(x, box.top, box.bottom, weight, dash))
            lines.append(level(y, box.left, box.right, weight, dash))
        yield _inside(panel, *lines)


def diagonals(given: GuideInput) -> Iterator[Shape]:
    """Both diagonals of each panel's box."""
    weight, dash = given.pen.weight * 0.75, given.pen.dash(9, 3)
    for panel in given.page.panels:
        left, top, right, bottom = panel.box.as_list()
        yield _inside(
            panel,
            Stroke((left, top), (right, bottom), weight, dash),
            Stroke((left, bottom), (right, top), weight, dash),
        )


def lettering_lines(given: GuideInput) -> Iterator[Shape]:
    """Cap line and base line of lines of lettering, in the safe area or at each panel's top."""
    page, thin = given.page, given.pen.weight // 2
    furniture = page.book.furniture
    if not furniture.lettering_lines:
        for safe in page.safe_areas:
            yield from _ruled(safe, furniture.capitals, furniture.space, thin)
        return
    for panel in page.panels:
        box = panel.box.clipped(page.boxes.safe_area)
        pitch = furniture.capitals + furniture.space
        last = half_up(box.top + furniture.space + furniture.lettering_lines * pitch)
        area = Box(box.left, half_up(box.top + furniture.space), box.right, min(box.bottom, last))
        if rules := _ruled(area, furniture.capitals, furniture.space, thin):
            yield _inside(panel, *rules)


@remembered
def _ruled(box: Box, capitals: Fraction, space: Fraction, weight: int) -> tuple[Rule, ...]:
    """Pairs of lines `capitals` apart, with `space` between the pairs, from the top of a box."""
    rules: list[Rule] = []
    at = Fraction(box.top)
    while half_up(at + capitals) + weight <= box.bottom and capitals >= 2:
        lines = (half_up(at), half_up(at + capitals))
        rules += [Rule(Box(box.left, y, box.right, y + weight)) for y in lines]
        at += capitals + space
    return tuple(rules)


def _inside(panel: Panel, *shapes: Shape) -> Shape:
    """Shapes cut to a panel; as they are if it is a plain box, in which they lie anyway."""
    if isinstance(panel.outline, Box) and not panel.cut_out:
        return shapes[0] if len(shapes) == 1 else Clip(shapes, (Rule(panel.outline),))
    within = panel_area(panel) if panel.cut_out else shape_of(panel.outline)
    return Clip(shapes, (within,))
