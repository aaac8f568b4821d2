"""Parts of the plane put together, cut, grown and shrunk, beside shapely (GEOS)."""

from typing import Any

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from support.reference import reference
from support.strategies import polygons

from guidekit.plane.box import Box
from guidekit.plane.polygon import Points, area
from guidekit.plane.rings import MITRE, Rings, grown, places_for, rings_of, united, within, without

shapes = polygons(0, 40)
NEAR = 0.01  # square pixels: each of some fifty corners is off by half a grid step


def points(polygon: np.ndarray) -> Points:
    """Corners as plain numbers."""
    return tuple(map(tuple, polygon.tolist()))


def shape_of(rings: Rings) -> Any:
    """What rings show: outlines run as the clock does, holes the other way.

    Rounded to the grid a ring may touch itself, which GEOS wants put in order first.
    """
    shapely = reference("shapely")
    outlines = [shapely.make_valid(shapely.Polygon(ring)) for ring in rings if area(ring) > 0]
    holes = [shapely.make_valid(shapely.Polygon(ring)) for ring in rings if area(ring) < 0]
    return shapely.union_all(outlines) - shapely.union_all(holes)


@given(shapes, shapes, shapes)
def test_like_shapely(a: np.ndarray, b: np.ndarray, c: np.ndarray) -> None:
    """Unions, differences and what is common are the same areas, holes and dents included."""
    shapely = reference("shapely")
    one, two, three = map(shapely.Polygon, (a, b, c))
    ab, rest = rings_of([points(a), points(b)]), rings_of([points(c)])
    assert (shape_of(ab) ^ (one | two)).area < NEAR
    assert (shape_of(without(ab, rest)) ^ ((one | two) - three)).area < NEAR
    assert (shape_of(within(ab, rest)) ^ ((one | two) & three)).area < NEAR
    assert (shape_of(united((*ab, *rest))) ^ (one | two | three)).area < NEAR


@given(shapes)
def test_grown(a: np.ndarray) -> None:
    """Grown shapes keep their distance all round, and reach no further than a mitre may."""
    shape = reference("shapely").Polygon(a)
    larger = shape_of(grown(rings_of([points(a)]), 3))
    assert larger.buffer(0.01).contains(shape.buffer(3))
    assert shape.buffer(3 * MITRE + 0.01).contains(larger)
    smaller = shape_of(grown(rings_of([points(a)]), -1))
    assert (smaller ^ shape.buffer(-1, join_style="mitre")).area < 0.1


def test_corners_stay_corners() -> None:
    """A box that is grown is the larger box, and a dent keeps its corner."""
    dented = ((0, 0), (20, 0), (20, 20), (10, 20), (10, 10), (0, 10))
    (larger,) = grown((dented,), 2)
    assert {*larger} == {(-2, -2), (22, -2), (22, 22), (8, 22), (8, 12), (-2, 12)}
    (same,) = grown((larger,), -2)
    assert {*same} == {*dented}


@given(shapes, st.builds(Box, *[st.integers(-3, -1)] * 2, *[st.integers(1, 4)] * 2))
def test_places_for_a_box(a: np.ndarray, box: Box) -> None:
    """A place is one where the box lies inside, and no such place is missing, on a fine grid."""
    shapely = reference("shapely")
    shape = shapely.Polygon(a)
    places = shape_of(places_for(box, rings_of([points(a)])))
    x, y = (side.ravel() for side in np.mgrid[0:40:1.7, 0:40:1.7])
    there = shapely.box(x + box.left, y + box.top, x + box.right, y + box.bottom)
    fits, dots = shapely.contains(shape.buffer(-0.4), there), shapely.points(x, y)
    assert shapely.contains(places.buffer(0.01), dots[fits]).all()
    inside = shapely.contains(places.buffer(-0.01), dots)
    assert shapely.contains(shape.buffer(0.4), there[inside]).all()


def test_nothing() -> None:
    """What has no area is nothing, and from nothing nothing is taken."""
    line = ((0.0, 0.0), (9.0, 0.0), (4.0, 0.0))
    square = ((0.0, 0.0), (9.0, 0.0), (9.0, 9.0), (0.0, 9.0))
    assert united((line,)) == rings_of([]) == without((), (square,)) == within((square,), ()) == ()
    speck = ((0.0, 0.0), (1e-7, 0.0), (0.0, 1e-7))
    assert without((speck,), (square,)) == united((speck, line)) == ()
    assert without((square,), (square,)) == grown((square,), -5) == ()
    assert shape_of(without((square,), (line,))).area == 81
