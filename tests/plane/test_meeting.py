"""Boxes that meet: the same pairs as by looking at every pair."""

from itertools import combinations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.reference import reference
from support.strategies import boxes

from guidekit.plane.box import Box
from guidekit.plane.meeting import meeting


@given(st.lists(boxes(Box(0, 0, 30, 30)), max_size=25))
def test_pairs(found: list[Box]) -> None:
    """Those pairs that have a point in common, by shapely, and each of them once."""
    shapely = reference("shapely")
    areas = [shapely.box(*box.as_list()) for box in found]
    expected = [
        (i, j) for i, j in combinations(range(len(found)), 2) if areas[i].intersects(areas[j])
    ]
    assert sorted(meeting(found)) == expected


@pytest.mark.parametrize(("gap", "pairs"), [(1, 0), (0, 2 * 40 * 39 + 2 * 39 * 39)])
def test_a_grid(gap: int, pairs: int) -> None:
    """In a grid without gaps each box meets those beside it and at its corners, else none."""
    places = [k * (10 + gap) for k in range(40)]
    grid = [Box(x, y, x + 10, y + 10) for y, x in product(places, places)]
    assert len(list(meeting(grid))) == pairs
