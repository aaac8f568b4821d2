"""Vertical scrolls: one column of panels, its heights, gaps and widths.

The shipped preset is 1600 pixels wide with 80 at either side, a screen of 2560 and canvases of at
most 25,600; delivered at half that size, so that everything lies on even pixels.
"""

from typing import Any

import pytest
from support.laid_out_pages import boxes, refusal
from support.scrolls import GAPS, scroll, tall


@pytest.mark.parametrize(
    ("item", "height"),
    [
        ({"height": "900 px"}, 900),
        ({"height": "901 px"}, 902),
        ({"height": "3 in"}, 900),
        ({"height": "1 screen"}, 2560),
        ({"height": "1.5 screens"}, 3840),
        ({"ratio": "1:1"}, 1440),
        ({"ratio": "16:9"}, 810),
        ({"ratio": "3:7"}, 3360),
        ({"ratio": "7:3"}, 618),
        ({"ratio": "1:1", "full": True}, 1600),
    ],
)
def test_heights(item: dict[str, Any], height: int) -> None:
    """A height is a length, so many screens or the ratio to the width, on even pixels."""
    (plan,) = scroll(item)
    left, right = (0, 1600) if item.get("full") else (80, 1520)
    assert boxes(plan) == [[left, 0, right, height]]
    assert plan.boxes.canvas.as_list() == [0, 0, 1600, height]


@pytest.mark.parametrize(
    ("gap", "pixels"), [*GAPS.items(), (None, 700), ("333 px", 334), ("1 in", 300), ("0 px", 0)]
)
def test_gaps(gap: str | None, pixels: int) -> None:
    """A gap is the preset's for a beat or a scene, or a length; "normal" unless it is said."""
    second = tall(500) | ({"gap": gap} if gap else {})
    (plan,) = scroll(tall(400), second)
    assert boxes(plan) == [[80, 0, 1520, 400], [80, 400 + pixels, 1520, 900 + pixels]]


def test_the_first_gap_is_only_where_it_is_asked_for() -> None:
    """A scroll begins with its first panel, or with the gap that this panel names."""
    assert boxes(scroll(tall(400) | {"gap": "scene"})[0]) == [[80, 1600, 1520, 2000]]


def test_gaps_of_another_preset() -> None:
    """Gaps come from the preset, with the issue's changes."""
    changes = {"scroll": {"gaps": {"close": "60 px"}}}
    (plan,) = scroll(tall(400), tall(400) | {"gap": "close"}, format=changes)
    assert boxes(plan)[1] == [80, 460, 1520, 860]


def test_several_panels_in_one_place() -> None:
    """A place may be filled with panels as a tier is; a number stands side by side."""
    three = {"tiers": [1, 2], "gutter": "40 px"}
    (plan,) = scroll(tall(600) | {"inside": 2}, tall(840) | {"inside": three})
    assert boxes(plan) == [
        [80, 0, 780, 600],
        [820, 0, 1520, 600],
        [80, 1300, 1520, 1700],
        [80, 1740, 780, 2140],
        [820, 1740, 1520, 2140],
    ]


def test_full_width_panels_have_no_border_at_the_sides() -> None:
    """A full-width panel runs to both sides of the canvas, in a filled place each to its own."""
    (plan,) = scroll(tall(600) | {"full": True}, tall(600) | {"full": True, "inside": 3})
    found = boxes(plan)
    assert [box[0] for box in found][:2] == [0, 0]
    assert (found[0][2], found[3][2]) == (1600, 1600)
    assert [sorted(panel.bleed) for panel in plan.panels] == [
        ["left", "right"],
        ["left"],
        [],
        ["right"],
    ]


def test_too_tall_a_panel_is_refused() -> None:
    """A panel that no canvas holds is refused with its place, its height and the limit."""
    assert refusal({"scroll": [tall(700), tall(25_602)]}, preset="vertical-scroll") == (
        "page 1, pages[1].scroll[2]: this panel with the gap before it takes 25952 px of one "
        "canvas. Make it or the gap lower: at most 25600 px, the preset's scroll.canvas_height. Or "
        "raise that, if your app opens as much."
    )


def test_an_invisible_panel_is_refused() -> None:
    """A height that rounds to nothing is refused with its place."""
    assert refusal({"scroll": [tall(10), {"height": "0.9 px"}]}, preset="vertical-scroll") == (
        "page 1, pages[1].scroll[2]: this panel would be 0 px high. "
        "Write a height of at least 1 px."
    )


def test_a_scroll_in_a_print_preset_is_refused() -> None:
    """A preset for printed pages has no scroll, and says which preset has."""
    assert refusal({"scroll": [tall(700)]}) == (
        "page 1, pages[1].scroll: this preset is for printed pages. Take a preset with a [scroll] "
        "table, such as vertical-scroll, or give the page tiers."
    )


@pytest.mark.parametrize(
    "keys",
    [
        {"count": 2},
        {"spread": True},
        {"insets": [{"over": 1, "width": "1 in", "height": "1 in", "corner": "top-left"}]},
        {"panel": {"1": {"border": False}}},
    ],
    ids=["count", "spread", "insets", "panel"],
)
def test_what_a_scroll_cannot_have_is_refused(keys: dict[str, Any]) -> None:
    """Keys that mean nothing beside a scroll are refused and not dropped."""
    good, (key,) = {"scroll": [tall(700)]}, keys
    assert refusal(good, good | keys, preset="vertical-scroll") == (
        f"pages[2].{key}: {key} and scroll are both here, and a scroll is one page. "
        f"Leave {key} out."
    )


@pytest.mark.parametrize(
    ("item", "allowed"),
    [
        ({"height": "0 px"}, 'a height such as "900 px" or "1.5 screens"'),
        ({"height": "0 screens"}, 'a height such as "900 px" or "1.5 screens"'),
        ({"ratio": "0:3"}, 'width to height, as in "3:2"'),
        ({"ratio": "1.5"}, 'width to height, as in "3:2"'),
        ({"height": "9 px", "gap": "wide"}, '"close", "normal", "scene" or a length such as'),
        ({"height": "9 px", "gap": "-3 px"}, '"close", "normal", "scene" or a length such as'),
        ({"height": "9 px", "ratio": "1:1"}, "one of them"),
        ({}, "one of them"),
    ],
)
def test_wrong_items_are_refused(item: dict[str, Any], allowed: str) -> None:
    """A height, ratio or gap that cannot be read is refused with what it may be."""
    text = refusal({"scroll": [item]}, preset="vertical-scroll")
    assert text.startswith("pages[1].scroll[1]")
    assert f"Write {allowed}" in text
