"""Ruled lines: outlines lie where they should, and dashes look the same from either end."""

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from support.planes import painted, plane
from support.strategies import boxes

from guidekit.plane.box import Box
from guidekit.raster.shapes import Area, Rule, cover, outline

CANVAS = Box(0, 0, 60, 40)
dashes = st.lists(st.integers(1, 9), min_size=2, max_size=4).map(tuple)


@given(boxes(CANVAS), st.integers(1, 8), st.integers(0, 8))
def test_outline(box: Box, weight: int, outward: int) -> None:
    """An outline is the box grown outward, without what lies deeper than its weight."""
    outer = Box(box.left - outward, box.top - outward, box.right + outward, box.bottom + outward)
    inner = Box(
        outer.left + weight, outer.top + weight, outer.right - weight, outer.bottom - weight
    )
    expected = painted([outer], CANVAS)
    if not inner.is_empty:
        expected[painted([inner], CANVAS) > 0] = 0
    assume(not box.is_empty)
    found = cover(outline(box, weight, outward=outward), CANVAS)
    assert (plane(found, CANVAS) == expected).all()


@given(st.integers(4, 60), st.integers(1, 3), dashes, st.booleans())
def test_dashes_look_the_same_from_either_end(
    length: int, weight: int, dash: tuple[int, ...], down: bool
) -> None:
    """A dashed line begins and ends with a dash, equals its mirror image and keeps in its box.

    From its end to its middle it follows the pattern.
    """
    box = Box(0, 0, weight, length) if down else Box(0, 0, length, weight)
    whole = Box(0, 0, 60, 60)
    pixels = plane(cover((Rule(box, dash),), whole), whole)
    line = pixels[:length, :weight].T if down else pixels[:weight, :length]
    assert pixels.sum() == line.sum()
    assert (line == line[0]).all()
    assert (line[0] == line[0][::-1]).all()
    pattern = np.concatenate(
        [np.full(n, 0 if i % 2 else 255) for i, n in enumerate(dash * (len(dash) % 2 + 1))]
    )
    half = (length + 1) // 2
    assert (line[0][:half] == np.resize(pattern, half)).all()


@given(boxes(CANVAS), st.integers(1, 4), dashes)
def test_dashed_outline_mirrors(box: Box, weight: int, dash: tuple[int, ...]) -> None:
    """A dashed outline on the facing page is the mirror image of this one."""
    pixels = plane(cover(outline(box, weight, dash), CANVAS), CANVAS)
    facing = outline(box.mirrored(CANVAS.width), weight, dash)
    assert (plane(cover(facing, CANVAS), CANVAS) == pixels[:, ::-1]).all()


@given(st.lists(boxes(CANVAS, over=5), max_size=5), st.lists(boxes(CANVAS, over=5), max_size=5))
def test_area_with_holes(shapes: list[Box], holes: list[Box]) -> None:
    """An area covers its shapes but for its holes, beside whatever else is drawn with it."""
    area = Area(tuple(map(Rule, shapes)), tuple(map(Rule, holes)))
    beside = Box(0, 0, 7, 3)
    expected = painted(shapes, CANVAS)
    expected[painted(holes, CANVAS) > 0] = 0
    expected |= painted([beside], CANVAS)
    assert (plane(cover((area, Rule(beside)), CANVAS), CANVAS) == expected).all()


@pytest.mark.parametrize("box", [Box(5, 5, 5, 9), Box(80, 0, 90, 40), Box(-9, -9, 0, 0)])
def test_nothing_to_draw(box: Box) -> None:
    """An empty box, or one outside the canvas, draws nothing."""
    assert cover((Rule(box),), CANVAS).box.is_empty
