"""Masks and borders of joined, bent and pointed panels: nothing is left out, left pages mirror."""

from typing import Any

import numpy as np
import pytest
from support.areas import SMALL, masks
from support.laid_out_pages import page, pixels
from support.random_pages import mirrored

FORMAT = SMALL | {
    "gutter_cover": True,
    "drawing": [{"name": "Inks"}],
    "panel_groups": ["Inks"],
}
INSET = {
    "over": "A",
    "width": "20 px",
    "height": "16 px",
    "corner": "bottom-right",
    "tilt": "9 deg",
}
TREES: dict[str, dict[str, Any]] = {
    "joined": {"map": "A A B\nA C B\nA C C", "insets": [INSET]},
    "joined with a title": {"map": ". A A\nB B A\nC B B", "bleed": "all"},
    "arcs": {"columns": [1, {"tiers": [1, 1], "bend": "6 px"}, 1], "bends": ["9 px", "-9 px"]},
    "points": {"tiers": [1, 2], "bend": [["40 %", "9 px"], ["70 %", "-5 px"]], "bleed": "all"},
    "triangles": {"tiers": [{"triangles": "both", "height": 2}, {"triangles": "rising"}]},
    "zigzag": {"columns": [1, 1, 1, 1], "widths": [1, 2, 2, 1], "bleed": "all",
               "slants": ["corner", "-corner", "corner"]},
}  # fmt: skip


@pytest.mark.parametrize("radius", [0, 4])
@pytest.mark.parametrize("name", TREES)
def test_masks_and_cover_fill_the_canvas(name: str, radius: int) -> None:
    """Every pixel belongs to a panel's mask or to the cover, shared pixels in parts."""
    plan = page(TREES[name], format=FORMAT | {"radius": f"{radius} px"})
    whole = masks(plan) + pixels(plan, "Gutter cover")
    assert np.abs(whole - 255).max() <= 3  # a rounding for each that shares the pixel


@pytest.mark.parametrize("name", [name for name in TREES if "insets" not in TREES[name]])
def test_left_pages_mirror(name: str) -> None:
    """A left page with the mirrored layout is the mirror image of the right page in each pixel."""
    right = page(TREES[name], format=FORMAT)
    left = page(mirrored(TREES[name]), format=FORMAT, direction="rtl")
    for layer in ("Panel borders", "Gutter cover"):
        one, other = pixels(right, layer).astype(int), pixels(left, layer).astype(int)
        assert np.abs(one[:, ::-1] - other).max() <= 1
