"""Panels that run to the bleed, on the sides that trade names mean on a left or right page.

The canvas of a page is (0, 0, 640, 840), all of it bleed; its frame is (60, 60, 580, 780).
"""

from typing import Any

import numpy as np
import pytest
from support.laid_out_pages import boxes, outlines, page, pixels, refusal

from guidekit.plane.outline import points_of

SPLASH = {"panels": "splash"}
SPREAD = {"panels": 1, "spread": True}

BLEEDS = [
    ("right", "top", [60, 0, 580, 780]),
    ("right", "bottom", [60, 60, 580, 840]),
    ("right", "inside", [0, 60, 580, 780]),
    ("right", "outside", [60, 60, 640, 780]),
    ("right", ["top", "outside"], [60, 0, 640, 780]),
    ("right", "all", [0, 0, 640, 840]),
    ("left", "inside", [60, 60, 640, 780]),
    ("left", "outside", [0, 60, 580, 780]),
    ("left", "all", [0, 0, 640, 840]),
    ("spread", "outside", [0, 60, 1240, 780]),
    ("spread", ["bottom", "top"], [60, 0, 1180, 840]),
    ("spread", "all", [0, 0, 1240, 840]),
]


def on_side(side: str, direction: str, keys: dict[str, Any]) -> Any:
    """A page of one panel on a left or right page, or on a spread, with these keys."""
    first = "right" if direction == "ltr" else "left"
    before = [] if side == first else [SPLASH]
    what = SPREAD if side == "spread" else SPLASH
    plan = page(*before, what | keys, direction=direction)
    assert plan.side == side
    return plan


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
@pytest.mark.parametrize(("side", "bleed", "box"), BLEEDS)
def test_bleed_on_every_side(side: str, bleed: Any, box: list[int], direction: str) -> None:
    """A panel runs to the edge of the bleed on the sides named, and only there.

    Inside is toward the fold: on the left of a right page, whichever way the book is read.
    """
    plan = on_side(side, direction, {"panel": {"1": {"bleed": bleed}}})
    assert boxes(plan) == [box]
    edges = zip(
        ("left", "top", "right", "bottom"), box, plan.boxes.safe_area.as_list(), strict=True
    )
    assert sorted(plan.panels[0].bleed) == sorted(name for name, a, b in edges if a != b)


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
def test_bleed_of_columns_of_a_spread(direction: str) -> None:
    """On a spread outside is either end, for the panel that lies there."""
    keys = {"panel": {"1": {"bleed": "outside"}, "2": {"bleed": ["outside", "top"]}}}
    plan = page(SPLASH, {"columns": [1, 1], "spread": True} | keys, direction=direction)
    found = sorted(boxes(plan))
    assert [x[0] for x in found] == [0, 625]
    assert [x[2] for x in found] == [615, 1240]
    assert sorted(x[1] for x in found) == [0, 60]


def test_only_the_edges_of_the_page_run_out() -> None:
    """A panel's sides in the gutters stay where they are when it runs out on all sides."""
    layout = {"tiers": [2, 1], "panel": {"1": {"bleed": "all"}}}
    assert boxes(page(layout))[0] == [0, 0, 315, 412]


REFUSED = [
    (
        SPREAD | {"panel": {"1": {"bleed": "inside"}}},
        'panel.1.bleed: "inside" is not a side on which this panel lies at the edge of the page. '
        'Write "bottom", "outside" or "top".',
    ),
    (
        {"tiers": [3], "panel": {"2": {"bleed": ["outside"]}}},
        'panel.2.bleed: "outside" is not a side on which this panel lies at the edge of the page. '
        'Write "bottom" or "top".',
    ),
    (
        {"map": "A A B\nC D B\nC E E", "panel": {"D": {"bleed": "top"}}},
        'panel.D.bleed: "top" is not a side on which this panel lies at the edge of the page. '
        "Leave bleed out, for it has none.",
    ),
    (
        {"map": "A A B\nC D B\nC E E", "panel": {"D": {"bleed": "all"}}},
        "panel.D.bleed: this panel lies nowhere at the edge of the page. "
        "Leave bleed out, for it has none.",
    ),
]


@pytest.mark.parametrize(("layout", "said"), REFUSED, ids=["fold", "gutters", "surrounded", "all"])
def test_bleed_where_no_page_ends_is_refused(layout: dict[str, Any], said: str) -> None:
    """A side that is not at the edge of the page cannot run out, and those that can are named."""
    text = refusal(SPLASH, layout)
    number = "pages 2 and 3" if "spread" in layout else "page 2"
    assert text == f"{number}, pages[2].{said}"


SLANTED = {"tiers": [1, 1], "slant": "5 deg"}


def test_bleed_at_a_slanted_gutter_is_refused() -> None:
    """A side at a slanted gutter is at no edge of the page, so that it cannot run out."""
    text = refusal(SLANTED | {"panel": {"1": {"bleed": "bottom"}}})
    assert 'panel.1.bleed: "bottom" is not a side on which this panel lies at the edge' in text


def test_all_sides_are_those_at_the_edge_of_the_page() -> None:
    """A panel that runs out on all sides does not claim to do so at a slanted gutter."""
    plan = page(SLANTED | {"panel": {"1": {"bleed": "all"}}})
    assert sorted(plan.panels[0].bleed) == ["left", "right", "top"]


def test_slanted_panels_run_out_along_their_gutter() -> None:
    """A slanted gutter runs on into the bleed as one straight line, and keeps its width there."""
    panel = {"1": {"bleed": "all"}, "2": {"bleed": "all"}}
    plan = page({"columns": [1, 1], "slant": "10 deg", "panel": panel})
    left, right = outlines(plan)
    assert left.bounds[:2] == (0, 0)
    assert right.bounds[2:] == (640, 840)
    assert left.distance(right) == pytest.approx(10, abs=1e-6)
    assert [len(points_of(panel.outline)) for panel in plan.panels] == [4, 4], "still quadrangles"


@pytest.mark.parametrize("bleed", ["top", "bottom", "inside", "outside", "all", ["top", "inside"]])
def test_no_border_where_a_panel_bleeds(bleed: Any) -> None:
    """A side at the bleed has no border; the borders beside it run out to the edge."""
    plan = page(SPLASH | {"panel": {"1": {"bleed": bleed}}})
    box = boxes(plan)[0]
    inner = [
        edge + (0 if edge in (0, 640, 840) else inward)
        for edge, inward in zip(box, (4, 4, -4, -4), strict=True)
    ]
    expected = np.zeros((840, 640), np.uint8)
    for (left, top, right, bottom), value in ((box, 255), (inner, 0)):
        expected[top:bottom, left:right] = value
    assert np.array_equal(pixels(plan, "Panel borders"), expected)
