"""The lines of guides are where their names say, in pixels."""

from fractions import Fraction
from itertools import product
from typing import Any

import numpy as np
import pytest
from support.catalogue import GUIDES
from support.laid_out_pages import boxes, layers, page, pixels

SPLASH = {"panels": "splash"}


def lines(plane: np.ndarray, axis: int) -> list[int]:
    """The middles of the upright (axis 0) or level (axis 1) lines of two pixels in a picture."""
    counts = (plane > 0).sum(axis)
    full = [i for i in range(len(counts)) if counts[i] > plane.shape[axis] / 4]
    middles = [i for i in full if i - 1 in full]
    assert len(full) == 2 * len(middles), "lines of two pixels"
    return middles


def shown(name: str, layout: dict[str, Any], **keys: Any) -> np.ndarray:
    """A guide on a page."""
    plan = page(layout | {"guides": {name: "shown"}}, **keys)
    return pixels(plan, GUIDES[name].layer)


def rounded(x: Fraction) -> int:
    """To whole pixels, half up."""
    return (2 * x + 1) // 2


def test_thirds() -> None:
    """The thirds of every panel are its exact thirds, to the nearest pixel, inside the panel."""
    plane = shown("thirds", {"tiers": [2]})
    expected = [rounded(left + Fraction(255 * k, 3)) for left in (60, 325) for k in (1, 2)]
    assert lines(plane, 0) == expected
    assert lines(plane, 1) == [60 + 240, 60 + 480]
    assert not plane[:, 315:325].any(), "nothing lies in the gutter"
    assert not plane[:60].any()


def test_panel_centre_lines() -> None:
    """The middle of every panel, either way; where it lies within a pixel the line holds it."""
    plane = shown("panel_centre_lines", {"tiers": [2, 1]})
    widths = {x for x in range(640) if plane[60:412, x].sum() > 255 * 50}
    assert widths == {186, 187, 188, 451, 452, 453}, "the middles are 187.5 and 452.5"
    assert not plane[:, 315:325][60:412].any()
    assert {y for y in range(840) if plane[y, 60:580].sum() > 255 * 50} == {235, 236, 603, 604}


def test_centre_lines_of_the_page() -> None:
    """The middle of the trim, either way, and on a spread that of each of its pages."""
    plane = shown("centre_lines", SPLASH)
    assert lines(plane, 0) == [320]
    assert lines(plane, 1) == [420]
    spread = page(SPLASH, {"panels": 1, "spread": True, "guides": {"centre_lines": "shown"}})
    assert lines(pixels(spread, "Centre lines"), 0) == [320, 920]


def test_diagonals() -> None:
    """Both diagonals of every panel run from corner to corner, dashed 9 to 3, and nothing else."""
    plane = shown("diagonals", {"tiers": [2]})
    y, x = np.nonzero(plane)
    slope = 720 / 255
    for left in (60, 325):
        here = (x >= left) & (x < left + 255)
        falling = np.abs((y[here] - 60) - slope * (x[here] - left)) / np.hypot(1, slope)
        rising = np.abs((779 - y[here]) - slope * (x[here] - left)) / np.hypot(1, slope)
        assert np.minimum(falling, rising).max() < 2
        for near in (falling, rising):
            rows = len(np.unique(y[here][near < 2]))
            assert 9 / 12 <= rows / 720 < 10 / 12  # the ends of dashes are as thick as the line
            assert {60, 779} <= set(y[here][near < 2].tolist())
    assert not plane[:, 315:325].any()


@pytest.mark.parametrize(("side", "dpi"), [("50 px", 100), ("0.3 in", 100), ("7.3 mm", 100)])
def test_square_grid(side: str, dpi: int) -> None:
    """Squares begin at the upper left of the safe area; every line is rounded by itself."""
    number, unit = side.split()
    per = {"px": Fraction(1), "in": Fraction(dpi), "mm": Fraction(dpi * 10, 254)}
    exact = Fraction(number) * per[unit]
    plane = shown("square_grid", SPLASH, format={"square_grid": side}) > 0
    columns = [x for x in range(640) if plane[60:780, x].all()]
    rows = [y for y in range(840) if plane[y, 60:580].all()]
    assert columns == [x for k in range(99) if (x := rounded(60 + k * exact)) < 580]
    assert rows == [y for k in range(99) if (y := rounded(60 + k * exact)) < 780]


MARKED: dict[str, dict[str, Any]] = {"single": SPLASH, "spread": {"panels": 1, "spread": True}}


@pytest.mark.parametrize("kind", MARKED)
def test_trim_marks_stay_outside_the_trim(kind: str) -> None:
    """Marks point at every corner of the trim and put no ink in it (CSS Paged Media 3, marks)."""
    plan = page(SPLASH, MARKED[kind] | {"guides": {"trim_marks": "shown"}})
    plane = pixels(plan, "Trim marks") > 0
    left, top, right, bottom = plan.boxes.trim.as_list()
    assert not plane[top:bottom, left:right].any()
    folds = [] if plan.boxes.fold is None else [plan.boxes.fold]
    for x, rows in product((left, right, *folds), (slice(0, top), slice(bottom, None))):
        assert {i for i in range(x - 8, x + 8) if plane[rows, i].any()} >= {x - 1, x}
    for y, columns in product((top, bottom), (slice(0, left), slice(right, None))):
        assert {i for i in range(y - 8, y + 8) if plane[i, columns].any()} >= {y - 1, y}


def test_no_trim_marks_without_a_margin() -> None:
    """A page that ends at its trim has no room for marks, and no layer of them."""
    plan = page(SPLASH | {"guides": {"trim_marks": "shown"}}, format={"bleed": "0 px"})
    assert "Trim marks" not in layers(plan)
    assert boxes(plan) == [[40, 40, 560, 760]]
