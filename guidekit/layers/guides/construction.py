"""Guides as a draughtsman rules them: division by diagonals, a square grid, perspective."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from guidekit.geometry.division.arrange import Division
from guidekit.geometry.panels.perspective import PerspectiveLines
from guidekit.layers.guides.kind import GuideInput
from guidekit.layers.guides.lines import in_mirror, level, upright
from guidekit.layers.palette import Pen
from guidekit.layers.panels import panel_area
from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.raster.shapes import Clip, Rule, Shape, Stroke
from guidekit.units import half_up

FarPoint = tuple[Fraction, bool]  # where a line meets the far edge; whether it starts on the right


def construction_lines(given: GuideInput) -> Iterator[Shape]:
    """The lines by which every equal division of the page is found with a ruler alone.

    A box with a gutter is divided as a box that is one gutter longer; a panel is then what lies
    between two marks, less a gutter at its end. The marks themselves are short and upright. A left
    page has the mirror image of what a right page has.
    """
    width = given.page.boxes.canvas.width
    for division in given.page.divisions:
        if division.flip:
            turned = replace(division, box=division.box.mirrored(width))
            yield from (in_mirror(shape, width) for shape in _lines(turned, given.pen))
        else:
            yield from _lines(division, given.pen)


def _lines(division: Division, pen: Pen) -> Iterator[Rule | Stroke]:
    """The lines and marks of one division, laid out from the left."""
    box = longer(division)
    for far, right in all_steps(division.parts):
        yield Stroke(*_placed(box, division.axis, far, right), pen.weight * 0.75)
    for part in range(1, division.parts):
        yield _mark(box, division, part, pen.weight)


def longer(division: Division) -> Box:
    """The divided box, one gutter longer along the division."""
    box = division.box
    if division.axis == "across":
        return Box(box.left, box.top, box.right + division.gap, box.bottom)
    return Box(box.left, box.top, box.right, box.bottom + division.gap)


@remembered
def all_steps(parts: int) -> tuple[FarPoint, ...]:
    """The lines that find every division, each once; the two diagonals are the first."""
    steps = [(Fraction(1), False), (Fraction(1), True)]
    for part in range(1, parts):
        steps += steps_to(part, parts)
    return tuple(dict.fromkeys(steps))


def steps_to(part: int, parts: int) -> list[FarPoint]:
    """The lines that find part / parts of a width, beside the two diagonals.

    A line from the upper left corner to the place r of the lower edge meets the falling-back
    diagonal at r / (1 + r) of the width; from the right, mirrored. So k/n is found from k/(n − k)
    if that is less than one, else from its mirror image, and 1/2 from the diagonals themselves.
    """
    place = Fraction(part, parts)
    if place == Fraction(1, 2):
        return []
    if place > Fraction(1, 2):
        return [(far, not right) for far, right in steps_to(parts - part, parts)]
    before = place / (1 - place)
    return [*steps_to(before.numerator, before.denominator), (before, False)]


def _placed(
    box: Box, axis: str, far: Fraction, right: bool
) -> tuple[tuple[float, float], tuple[float, float]]:
    """From a corner of the near edge to the place `far` of the far edge."""
    begin, end = (1.0, 1 - float(far)) if right else (0.0, float(far))
    if axis == "across":
        x0, x1 = box.left + begin * box.width, box.left + end * box.width
        return (x0, box.top), (x1, box.bottom)
    y0, y1 = box.top + begin * box.height, box.top + end * box.height
    return (box.left, y0), (box.right, y1)


def _mark(box: Box, division: Division, part: int, weight: int) -> Rule:
    """A short line at one division, at the level where the construction finds it."""
    place = Fraction(part, division.parts)
    across = min(place, 1 - place)  # the diagonals cross their lines at this part of the height
    size = max(3 * weight, min(box.width, box.height) // 24)
    if division.axis == "across":
        x = half_up(box.left + place * box.width)
        y = half_up(box.bottom - across * box.height)
        return upright(x, y - size, y + size, weight)
    x = half_up(box.right - across * box.width)
    y = half_up(box.top + place * box.height)
    return level(y, x - size, x + size, weight)


def square_grid(given: GuideInput) -> Iterator[Shape]:
    """Squares of a given side over the safe area, from its upper corner toward the fold."""
    page, width = given.page, given.page.boxes.canvas.width
    side = page.book.furniture.square_grid
    if not side:
        return
    for one in page.boxes.pages:
        if one.flip:
            rules = _squares(one.safe_area.mirrored(width), side, given.pen.weight // 2)
            yield from (in_mirror(rule, width) for rule in rules)
        else:
            yield from _squares(one.safe_area, side, given.pen.weight // 2)


def _squares(safe: Box, side: Fraction, weight: int) -> Iterator[Rule]:
    for k in range(int(safe.width / side) + 1):
        x = half_up(safe.left + k * side)
        yield Rule(Box(x, safe.top, min(x + weight, safe.right), safe.bottom))
    for k in range(int(safe.height / side) + 1):
        y = half_up(safe.top + k * side)
        yield Rule(Box(safe.left, y, safe.right, min(y + weight, safe.bottom)))


def perspective(given: GuideInput) -> Iterator[Shape]:
    """Horizon, rays and walls of the page and of its panels."""
    page = given.page
    if page.view:
        yield from _view(page.view, given)
    for panel in page.panels:
        if panel.view:
            yield Clip(tuple(_view(panel.view, given)), (panel_area(panel),))


def _view(view: PerspectiveLines, given: GuideInput) -> Iterator[Shape]:
    pen = given.pen
    for start, end in view.horizon:
        yield Stroke(start, end, pen.weight * 1.5)
    for start, end in view.rays:
        yield Stroke(start, end, pen.weight * 0.4)
    for start, end in view.wall:
        yield Stroke(start, end, pen.weight * 0.75)
