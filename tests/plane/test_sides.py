"""Polygons whose sides are moved, each by its own distance."""

from typing import Any

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from support.reference import reference
from support.strategies import boxes, polygons

from guidekit.plane.box import Box
from guidekit.plane.polygon import Points, clockwise, corners
from guidekit.plane.rings import Rings, grown
from guidekit.plane.sides import moved

distances = st.sampled_from([-6, -3, 0, 2, 5])


def shape_of(rings: Rings) -> Any:
    """Rings without holes as shapely has them."""
    shapely = reference("shapely")
    return shapely.union_all([*map(shapely.Polygon, rings)])


@given(polygons(0, 40), st.sampled_from([-3.0, -1.0, 1.0, 2.5]))
def test_all_alike(polygon: np.ndarray, by: float) -> None:
    """Where all sides move alike, that is the polygon grown or shrunk."""
    points = clockwise(tuple(map(tuple, polygon.tolist())))
    found = moved(points, [by] * len(points))
    assert (shape_of(found) ^ shape_of(grown((points,), -by))).area < 0.02


@given(boxes(Box(0, 0, 60, 60)), *[distances] * 4)
def test_boxes(box: Box, top: int, right: int, bottom: int, left: int) -> None:
    """A box's sides move to whole pixels; where they pass each other nothing is left."""
    if box.is_empty:
        return
    found = moved(corners(box), [top, right, bottom, left])
    end = Box(box.left + left, box.top + top, box.right - right, box.bottom - bottom)
    if end.is_empty:
        assert shape_of(found).area <= 1e-3
    else:
        assert {*found[0]} == {*corners(end)}


def test_a_notch() -> None:
    """Round the notch of an L the inside of a line keeps square corners, also where a side runs
    out.
    """
    points: Points = ((0, 0), (30, 0), (30, 20), (60, 20), (60, 50), (0, 50))
    (inner,) = moved(points, [-4, 4, 4, 4, 4, -4])  # out at the top and on the left
    assert {*inner} == {(-4, -4), (26, -4), (26, 24), (56, 24), (56, 46), (-4, 46)}
    assert len(moved(((0, 0), (60, 0), (60, 50), (30, 10), (0, 50)), [6] * 5)) == 2
