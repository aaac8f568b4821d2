"""Slanted edges: every pixel has the area of it that is covered, as shapely computes it."""

from typing import Any
from unittest.mock import patch

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from support.planes import painted, plane
from support.reference import reference
from support.strategies import boxes, polygons

from guidekit.plane.box import Box
from guidekit.plane.polygon import Points, clockwise
from guidekit.plane.rings import rings_of, without
from guidekit.raster import fill, mix
from guidekit.raster.bands import Bands
from guidekit.raster.fill import fill_rings
from guidekit.raster.shapes import Polygon, Rule, Solid, Stroke, cover

CANVAS = Box(-4, 3, 20, 21)
near, beyond = polygons(4, 18), polygons(-12, 36)
points = st.tuples(st.floats(-8, 26), st.floats(-4, 28))
strokes = st.builds(Stroke, points, points, st.floats(0.3, 7))


def filled(polygons: list[np.ndarray], canvas: Box) -> Bands:
    """Polygons given as arrays of corners."""
    return fill_rings([clockwise(_points(polygon)) for polygon in polygons], canvas)


def _points(polygon: np.ndarray) -> Points:
    return tuple(map(tuple, polygon.tolist()))


def areas(*found: Any) -> np.ndarray:
    """255 times the area of the union of shapes in every pixel of the canvas, unrounded."""
    shapely = reference("shapely")
    shapes = [s if isinstance(s, shapely.Geometry) else shapely.polygons(s) for s in found]
    whole = shapely.union_all(shapes)
    y, x = np.mgrid[CANVAS.top : CANVAS.bottom, CANVAS.left : CANVAS.right]
    area: np.ndarray = shapely.area(shapely.intersection(whole, shapely.box(x, y, x + 1, y + 1)))
    return area * 255


def assert_covers(picture: np.ndarray, expected: np.ndarray) -> None:
    """Every pixel is the expected value rounded; the third decimal is left to the floats."""
    worst = float(np.abs(picture - expected).max())
    assert worst <= 0.501


@given(near | beyond)
def test_area_of_every_pixel(polygon: np.ndarray) -> None:
    """A pixel's value is 255 times the area covered, inside the canvas and cut at its edges."""
    assert_covers(plane(filled([polygon], CANVAS), CANVAS), areas(polygon))


@given(near | beyond, near, beyond)
def test_solid(polygon: np.ndarray, other: np.ndarray, hole: np.ndarray) -> None:
    """Shapes with dents and holes cover their exact area, however many edges share a pixel."""
    shapely = reference("shapely")
    rings = without(rings_of([_points(polygon), _points(other)]), rings_of([_points(hole)]))
    whole = shapely.union_all([*map(shapely.Polygon, (polygon, other))]) - shapely.Polygon(hole)
    assert_covers(plane(cover((Solid(rings),), CANVAS), CANVAS), areas(whole))


@given(strokes)
def test_stroke(stroke: Stroke) -> None:
    """A slanted line is as wide as its weight across it, with square ends."""
    shapely = reference("shapely")
    assume(np.hypot(*np.subtract(stroke.start, stroke.end)) > 0.1)
    line = shapely.linestrings([stroke.start, stroke.end])
    outline = shapely.buffer(line, stroke.weight / 2, cap_style="flat")
    expected = areas(shapely.get_coordinates(outline))
    assert_covers(plane(cover((stroke,), CANVAS), CANVAS), expected)


@given(
    st.integers(2, 40),
    st.floats(0, 2 * np.pi),
    st.floats(0.5, 4),
    st.sampled_from([(3, 2), (4, 1, 1, 1), (9, 3)]),
)
def test_dashed_stroke(length: int, angle: float, weight: float, dash: tuple[int, ...]) -> None:
    """A dashed slanted line has the dashes of a straight one, and each covers its own area."""
    shapely = reference("shapely")
    start = np.array([8.3, 11.6])
    along = np.array([np.cos(angle), np.sin(angle)])
    stroke = Stroke(tuple(start), tuple(start + along * length), weight, dash)
    straight = Rule(Box(0, 0, length, 1), dash)
    row = plane(cover((straight,), Box(0, 0, length, 1)), Box(0, 0, length, 1))[0]
    pieces = [
        shapely.buffer(
            shapely.linestrings([start + along * i, start + along * (i + 1)]),
            weight / 2,
            cap_style="flat",
        )
        for i in np.flatnonzero(row)
    ]
    expected = areas(*(shapely.get_coordinates(piece) for piece in pieces))
    assert_covers(plane(cover((stroke,), CANVAS), CANVAS), expected)


@given(st.lists(boxes(CANVAS, over=5), min_size=1, max_size=5), st.booleans())
def test_whole_pixels_are_exact(found: list[Box], backward: bool) -> None:
    """Rectangles on whole pixels are the boxes themselves, whichever way their corners run."""
    corners = [
        np.array(
            [(b.left, b.top), (b.right, b.top), (b.right, b.bottom), (b.left, b.bottom)], float
        )
        for b in found
    ]
    picture = filled([c[::-1] if backward else c for c in corners], CANVAS)
    assert (plane(picture, CANVAS) == painted(found, CANVAS)).all()


@given(near, boxes(CANVAS))
def test_slanted_over_whole_pixels(polygon: np.ndarray, box: Box) -> None:
    """A slanted shape over a rectangle on whole pixels covers what the two together cover."""
    assume(not box.is_empty)
    shapely = reference("shapely")
    rectangle = shapely.get_coordinates(shapely.box(*box.as_list()))
    shapes = (Polygon(tuple(map(tuple, polygon))), Rule(box))
    assert_covers(plane(cover(shapes, CANVAS), CANVAS), areas(polygon, rectangle))
    picture = filled([polygon, rectangle], CANVAS)
    assert_covers(plane(picture, CANVAS), areas(polygon, rectangle))


@given(st.lists(near | beyond, min_size=1, max_size=4))
def test_strips_are_seamless(found: list[np.ndarray]) -> None:
    """Filled a strip at a time, shapes cover what they cover when filled in one go."""
    whole = plane(filled(found, CANVAS), CANVAS)
    with patch.object(fill, "LONG_WAY", 0):
        with patch.object(mix, "STRIP", 5):
            strips = filled(found, CANVAS)
        with patch.object(fill, "LONGEST_WAY", 7):  # so many edges that strips are lower
            crowded = filled(found, CANVAS)
    assert (plane(strips, CANVAS) == whole).all()
    assert (plane(crowded, CANVAS) == whole).all()


@given(near, st.tuples(*[st.floats(0.1, 1)] * 3))
def test_parts_make_the_whole(polygon: np.ndarray, weights: tuple[float, ...]) -> None:
    """A triangle in three parts covers what the whole covers: shared edges leave no seam."""
    corners = polygon[:3]
    middle = np.average(corners, axis=0, weights=weights)
    fan = [np.array([middle, corners[i - 1], corners[i]]) for i in range(3)]
    assert_covers(plane(filled(fan, CANVAS), CANVAS), areas(corners))


@pytest.mark.parametrize(
    "corners",
    [
        [(-30, 0), (-20, 0), (-20, 30)],  # beside the canvas
        [(0, 10), (5, 10), (9, 10)],  # no area
        [(0, 10), (5, 10)],
        [(3.2, 5), (3.2, 5), (3.2, 5)],
    ],
)
def test_nothing_to_fill(corners: list[tuple[float, float]]) -> None:
    """What has no area, or lies beside the canvas, covers nothing."""
    assert filled([np.array(corners, float)], CANVAS).box.is_empty
