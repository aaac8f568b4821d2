"""The tint over gutters goes on as far as the panels beside them do.

The canvas of a page is (0, 0, 640, 840), all of it bleed; its frame is (60, 60, 580, 780).
"""

from typing import Any

import numpy as np
import pytest
from support.laid_out_pages import boxes, outlines, page, pixels
from support.random_pages import mirrored
from support.reference import reference

SPLASH = {"panels": "splash"}


def bleeding(*numbers: int, **sides: Any) -> dict[str, Any]:
    """Entries for panels that bleed on all sides at the edge of the page."""
    return {"panel": {str(number): {"bleed": "all"} for number in numbers} | sides}


def tint(plan: Any) -> np.ndarray:
    """The tinted pixels."""
    return pixels(plan, "Gutters") > 127


def filled(*found: tuple[int, int, int, int]) -> np.ndarray:
    """The pixels of some boxes."""
    plane = np.zeros((840, 640), bool)
    for left, top, right, bottom in found:
        plane[top:bottom, left:right] = True
    return plane


def test_from_bleed_to_bleed() -> None:
    """A gutter between panels that run out on one edge is tinted to the edge of the bleed."""
    plan = page({"tiers": [2, 2]} | bleeding(1, 2, 3, 4))
    assert np.array_equal(tint(plan), filled((315, 0, 325, 840), (0, 412, 640, 428)))


def test_only_between_two_that_run_out() -> None:
    """Beside a panel that stays in the frame, margin is no gutter."""
    plan = page({"tiers": [3, 1]} | bleeding(1, 2))
    first, second = boxes(plan)[0][2], boxes(plan)[1][0]
    beyond = tint(plan)
    beyond[60:780] = False
    assert np.array_equal(beyond, filled((first, 0, second, 60)))


def test_not_over_a_panel_between_them() -> None:
    """Two panels that run out with one between them that does not have no gutter there."""
    beyond = tint(page({"tiers": [3, 1]} | bleeding(1, 3)))
    beyond[60:780] = False
    assert not beyond.any()


def test_not_across_the_fold() -> None:
    """Between the halves of a spread lies the fold, and no gutter."""
    halves = {"spread": True, "halves": [{"tiers": [2]}, {"tiers": [2]}]}
    plan = page(SPLASH, halves | bleeding(1, 2, 3, 4))
    assert not tint(plan)[:, 581:659].any()


@pytest.mark.parametrize("slant", ["8 deg", "-8 deg"])
def test_slanted_gutters_go_on_straight(slant: str) -> None:
    """Beyond the frame a slanted gutter is as wide, and its two edges are the panels'."""
    shapely = reference("shapely")
    plan = page({"columns": [1, 1], "slant": slant} | bleeding(1, 2))
    a, b = outlines(plan)
    gutter = shapely.box(0, 0, 640, 840).difference(a.union(b))
    assert pixels(plan, "Gutters").sum() / 255 == pytest.approx(gutter.area, rel=0.001)
    assert gutter.bounds[1::2] == (0, 840)


def test_mirrored_on_left_pages() -> None:
    """The tint of a left page is the mirror image of a right page's."""
    layout = {"tiers": [{"columns": [1, 2], "slant": "4 deg"}, 2]}
    entries = bleeding(1, 2, 3, 4, 5)
    right = tint(page(layout | entries))
    left = tint(page(mirrored(layout) | entries, direction="rtl"))
    assert np.array_equal(left[:, ::-1], right)


def test_with_spare_pixels_left_to_the_margin() -> None:
    """The gutter goes on from the frame that the panels fill, smaller than the safe area."""
    plan = page({"tiers": [3]} | bleeding(1, 2, 3), format={"spare_pixels": "margin"})
    a, b, c = boxes(plan)
    expected = filled((a[2], 0, b[0], 840), (b[2], 0, c[0], 840))
    assert np.array_equal(tint(plan), expected)
