"""Division by crossed lines: a ruler alone finds every n-th part, and the guide shows how.

A line from one corner to the place r of the opposite edge meets the diagonal that does not start
there at r / (1 + r). Sources: Mathematics Stack Exchange, question 179361; cut-the-knot.org, "How
to divide a segment into n equal parts". Here it is computed by intersecting lines in fractions.
"""

from collections.abc import Iterator
from fractions import Fraction
from typing import Any

import pytest
from support.laid_out_pages import boxes, layers, page

from guidekit.layers.guides.construction import steps_to
from guidekit.raster.shapes import Rule, Shape, Stroke

Point = tuple[Fraction, Fraction]
Line = tuple[Point, Point]
ZERO, ONE = Fraction(0), Fraction(1)
FALLING, RISING = ((ZERO, ZERO), (ONE, ONE)), ((ONE, ZERO), (ZERO, ONE))  # y runs downward


def crossing(first: Line, second: Line) -> Point:
    """Where two lines meet, by Cramer's rule."""
    (ax, ay), (bx, by) = first
    (cx, cy), (dx, dy) = second
    ux, uy, vx, vy = bx - ax, by - ay, dx - cx, dy - cy
    t = ((cx - ax) * vy - (cy - ay) * vx) / (ux * vy - uy * vx)
    return ax + t * ux, ay + t * uy


FRACTIONS = [(k, n) for n in range(2, 13) for k in range(1, n)]


@pytest.mark.parametrize(("part", "parts"), FRACTIONS)
def test_crossings_are_exact(part: int, parts: int) -> None:
    """For every k/n up to twelfths the last line crosses a diagonal at k/n of the width exactly.

    Every line starts in a corner and ends at a place that is found already, so that each can be
    ruled when its turn comes.
    """
    known = {ZERO, ONE, crossing(FALLING, RISING)[0]}
    at = Fraction(1, 2)
    for far, from_the_right in steps_to(part, parts):
        line = ((ONE, ZERO), (1 - far, ONE)) if from_the_right else ((ZERO, ZERO), (far, ONE))
        assert line[1][0] in known
        at, _ = crossing(line, FALLING if from_the_right else RISING)
        known.add(at)
    assert at == Fraction(part, parts)


def strokes(shapes: Iterator[Shape] | tuple[Shape, ...]) -> list[Stroke]:
    """All slanted lines, those inside of others included."""
    found = []
    for shape in shapes:
        found += [shape] if isinstance(shape, Stroke) else strokes(getattr(shape, "shapes", ()))
    return found


def marks(shapes: tuple[Shape, ...]) -> list[Rule]:
    """All short upright or level lines."""
    found = []
    for shape in shapes:
        found += [shape] if isinstance(shape, Rule) else marks(getattr(shape, "shapes", ()))
    return found


def construction(layout: dict[str, Any], **format: Any) -> tuple[Shape, ...]:
    """The construction lines of a page."""
    return layers(page(layout, format=format))["Construction lines"].shapes


def exact(stroke: Stroke) -> Line:
    """A drawn line in fractions."""
    (ax, ay), (bx, by) = stroke.start, stroke.end
    return (Fraction(ax), Fraction(ay)), (Fraction(bx), Fraction(by))


@pytest.mark.parametrize("number", range(2, 13))
@pytest.mark.parametrize("key", ["columns", "tiers"])
def test_panels_begin_where_lines_cross(key: str, number: int) -> None:
    """Among the crossings of the drawn lines are those at which every panel begins.

    The divided box is one gutter longer than the panels, so that a panel is what lies between two
    crossings, less a gutter.
    """
    shapes = construction({key: [1] * number})
    lines = [exact(stroke) for stroke in strokes(shapes)]
    gutter, low, high, axis = (10, 60, 580, 0) if key == "columns" else (16, 60, 780, 1)
    found = set()
    for i, first in enumerate(lines):
        for second in lines[i + 1 :]:
            try:
                found.add(round(float(crossing(first, second)[axis]), 6))
            except ZeroDivisionError:  # parallel
                continue
    begins = [box[axis] for box in boxes(page({key: [1] * number}))]
    for k in range(1, number):
        place = low + Fraction(k * (high + gutter - low), number)
        assert round(float(place), 6) in found
        assert abs(begins[k] - place) <= 1


@pytest.mark.parametrize("number", [2, 3, 5, 7])
@pytest.mark.parametrize("key", ["columns", "tiers"])
def test_every_division_has_its_mark(key: str, number: int) -> None:
    """A short line marks every division on the edge of the panel that begins there."""
    found = marks(construction({key: [1] * number}))
    axis = 0 if key == "columns" else 1
    middles = sorted(
        (rule.box.left + rule.box.right if axis == 0 else rule.box.top + rule.box.bottom) / 2
        for rule in found
        if min(rule.box.width, rule.box.height) <= 4
    )
    begins = [box[axis] for box in boxes(page({key: [1] * number}))][1:]
    assert len(middles) == number - 1
    assert all(abs(a - b) <= 1 for a, b in zip(middles, begins, strict=True))


def test_marks_lie_on_the_crossings() -> None:
    """A mark is where its lines cross, so that it is found by eye."""
    shapes = construction({"columns": [1, 1, 1]})
    lines = [exact(stroke) for stroke in strokes(shapes)]
    crossings = [
        crossing(a, b)
        for i, a in enumerate(lines)
        for b in lines[i + 1 :]
        if (a[1][0] - a[0][0]) * (b[1][1] - b[0][1]) != (a[1][1] - a[0][1]) * (b[1][0] - b[0][0])
    ]
    upright = [rule for rule in marks(shapes) if rule.box.width <= 4]
    assert len(upright) == 2
    for rule in upright:
        x, y = (rule.box.left + rule.box.right) / 2, (rule.box.top + rule.box.bottom) / 2
        assert min(abs(x - float(p)) + abs(y - float(q)) for p, q in crossings) <= 2


@pytest.mark.parametrize(
    "layout",
    [{"panels": "splash"}, {"columns": [1, 1], "widths": [1, 2]}],
    ids=["splash", "unequal"],
)
def test_nothing_to_divide(layout: dict[str, Any]) -> None:
    """A page without an equal division has no construction lines."""
    assert "Construction lines" not in layers(page(layout))


def test_unequal_gutters_are_no_equal_division() -> None:
    """Panels of equal width with two widths of gutter are not found by this construction."""
    layout = {"columns": [1, 1, 1], "gutters": ["10 px", "20 px"]}
    assert "Construction lines" not in layers(page(layout))


def test_lines_of_nested_divisions() -> None:
    """Every equal division of a page has its own lines, nested ones too."""
    shapes = construction({"tiers": [3, {"columns": [1, {"tiers": [1, 1]}]}]})
    starts = {stroke.start for stroke in strokes(shapes)}
    assert {(60, 60), (60, 428), (325, 428)} <= starts
