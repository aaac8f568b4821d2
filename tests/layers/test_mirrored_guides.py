"""The guides of a left page are the mirror image of a right page's, those of a spread both."""

from typing import Any

import numpy as np
import pytest
from support.laid_out_pages import page, pixels
from support.random_pages import mirrored

SPLASH = {"panels": "splash"}
LAYOUT = {"tiers": [3, {"columns": [1, 1, {"tiers": [1, 1, 1]}]}]}
FORMAT: dict[str, Any] = {
    "square_grid": "37.3 px",
    "fold_strip": "21 px",
    "safe_area": {"top": "41 px", "bottom": "33 px", "inside": "52 px", "outside": "27 px"},
    "trim": {"width": "603 px", "height": "801 px"},
    "gutter": {"across": "11 px", "down": "16 px"},
}
NAMES = (
    "Square grid", "Construction lines", "Fold strip", "Diagonals", "Thirds", "Panel centre lines",
    "Centre lines", "Safe area", "Trim", "Bleed", "Gutters",
)  # fmt: skip
GUIDES = dict.fromkeys(
    ("square_grid", "construction_lines", "diagonals", "thirds", "panel_centre_lines"), "shown"
)


@pytest.mark.parametrize("name", NAMES)
def test_left_pages_have_mirrored_guides(name: str) -> None:
    """Every guide without words is the same on both sides, seen from the fold."""
    right = page(LAYOUT, format=FORMAT, guides=GUIDES)
    left = page(mirrored(LAYOUT), direction="rtl", format=FORMAT, guides=GUIDES)
    assert (right.side, left.side) == ("right", "left")
    mine, facing = pixels(right, name), pixels(left, name)
    assert mine.any()
    assert np.array_equal(facing[:, ::-1], mine)


@pytest.mark.parametrize("name", [name for name in NAMES if name not in ("Bleed", "Trim")])
def test_halves_of_a_spread_have_the_guides_of_single_pages(name: str) -> None:
    """To the right of the fold a spread has what the right page has alone.

    At its fold a spread has a line of its own in the trim, and no bleed.
    """
    halves = {"spread": True, "halves": [mirrored(LAYOUT), LAYOUT]}
    spread = page(SPLASH, halves, format=FORMAT, guides=GUIDES)
    single = page(LAYOUT, format=FORMAT, guides=GUIDES)
    begin, fold = single.boxes.trim.left, spread.boxes.fold
    alone = pixels(single, name)[:, begin:]
    whole = pixels(spread, name)
    assert np.array_equal(whole[:, fold:], alone)
    assert np.array_equal(whole[:, :fold], alone[:, ::-1])
