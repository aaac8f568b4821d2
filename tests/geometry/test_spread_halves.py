"""Spreads: two halves laid out each by itself, or one layout across the fold.

A spread's canvas is 1240 × 840 pixels with the fold at 620; the frames of its pages are
(60, 60, 580, 780) and (660, 60, 1180, 780).
"""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.laid_out_pages import boxes, issue, layers, page, pixels, plans, refusal

SPLASH = {"panels": "splash"}
LEFT, RIGHT = [60, 60, 580, 780], [660, 60, 1180, 780]
directions = pytest.mark.parametrize("direction", ["ltr", "rtl"])


def spread(direction: str = "ltr", format: Any = None, **keys: Any) -> Any:
    """A spread on pages 2 and 3."""
    plan = page(SPLASH, {"spread": True} | keys, direction=direction, format=format)
    assert (plan.side, plan.numbers) == ("spread", (2, 3))
    return plan


@directions
def test_each_half_is_laid_out_in_its_own_frame(direction: str) -> None:
    """The left half fills the safe area of the left page, the right half that of the right page."""
    plan = spread(direction, halves=[{"tiers": [1, 1]}, {"columns": [1, 1]}])
    left, right = (
        [[60, 60, 580, 412], [60, 428, 580, 780]],
        [[660, 60, 915, 780], [925, 60, 1180, 780]],
    )
    assert boxes(plan) == ([*left, *right] if direction == "ltr" else [*right[::-1], *left])
    assert sorted(frame.as_list() for frame in plan.frames) == [LEFT, RIGHT]
    assert plan.boxes.fold == 620


@directions
def test_halves_are_read_page_by_page(direction: str) -> None:
    """All of the earlier page is read before the later one: left first, or right first."""
    plan = spread(direction, halves=[{"tiers": [2, 1]}, {"map": "A B\nC C"}])
    on_the_left = [box[2] <= 620 for box in boxes(plan)]
    assert on_the_left == ([True] * 3 + [False] * 3)[:: 1 if direction == "ltr" else -1]
    tops = [box[1] for box in boxes(plan)]
    assert tops == sorted(tops[:3]) + sorted(tops[3:])


@directions
def test_a_layout_across_is_read_tier_by_tier(direction: str) -> None:
    """Without halves a tier is read from end to end across the fold."""
    found = boxes(spread(direction, tiers=[4, 1]))
    lefts = [box[0] for box in found[:4]]
    assert lefts == sorted(lefts, reverse=direction == "rtl")
    assert found[4] == [60, 428, 1180, 780], "a panel may lie across the fold"


def test_the_same_half_twice_is_a_mirror_image() -> None:
    """Halves share out their spare pixels from the fold outward, as facing pages do."""
    plan = spread(halves=[{"tiers": [3]}, {"tiers": [3]}])
    found = boxes(plan)
    assert len({box[2] - box[0] for box in found}) == 2, "520 px less two gutters is no third"
    assert found[3:] == [[1240 - c, b, 1240 - a, d] for a, b, c, d in found[2::-1]]


@directions
def test_halves_are_as_on_single_pages(direction: str) -> None:
    """A half has the panels that the page alone would have."""
    layouts: list[dict[str, Any]] = [{"tiers": [3, 2]}, {"columns": [1, {"tiers": [1, 2]}]}]
    first, second = layouts if direction == "ltr" else layouts[::-1]
    text = issue(SPLASH, first, second, direction=direction)
    single = {plan.side: boxes(plan) for plan in plans(text)[1:]}
    found = boxes(spread(direction, halves=layouts))
    moved = [[a + 600, b, c + 600, d] for a, b, c, d in single["right"]]
    pages = [single["left"], moved]
    assert found == [box for half in pages[:: 1 if direction == "ltr" else -1] for box in half]


tenths = st.integers(0, 150).map(lambda n: f"{n / 10} mm")
EDGES = ("top", "bottom", "inside", "outside")
formats = st.fixed_dictionaries(
    {
        "dpi": st.integers(72, 700),
        "trim": st.fixed_dictionaries(
            {
                key: st.integers(1000, 2500).map(lambda n: f"{n / 10} mm")
                for key in ("width", "height")
            }
        ),
        "bleed": st.fixed_dictionaries(dict.fromkeys(EDGES, tenths)),
        "safe_area": st.fixed_dictionaries(dict.fromkeys(EDGES, tenths)),
        "gutter": st.sampled_from(["0 mm", "2.3 mm", "1/8 in"]),
        "spare_pixels": st.sampled_from(["shared", "margin"]),
    }
)
layouts = st.sampled_from(
    [
        {"tiers": [3, {"widths": [1, 2], "height": 2}, 1]},
        {"columns": [1, {"tiers": [1, 2], "slant": "3 deg"}]},
        {"map": "A A B\nC D B\nC E E"},
    ]
)


@given(layouts, layouts, formats, st.sampled_from(["ltr", "rtl"]))
def test_a_spread_is_its_single_pages(left: Any, right: Any, format: Any, direction: str) -> None:
    """Whatever the format, the halves of a spread have the very pixels of two single pages."""
    first, second = (left, right) if direction == "ltr" else (right, left)
    text = issue(SPLASH, first, second, direction=direction, format=format)
    single = {plan.side: plan for plan in plans(text)[1:]}
    whole = spread(direction, format, halves=[left, right])
    moved = whole.boxes.fold - single["right"].boxes.trim.left
    pages = [boxes(single["left"]), shifted(boxes(single["right"]), moved)]
    turn = 1 if direction == "ltr" else -1
    assert boxes(whole) == [box for page in pages[::turn] for box in page]


def shifted(found: list[list[int]], by: int) -> list[list[int]]:
    """Boxes moved to the right."""
    return [[a + by, b, c + by, d] for a, b, c, d in found]


@pytest.mark.parametrize("spare", ["shared", "margin"])
@directions
def test_panels_of_halves_run_out(spare: str, direction: str) -> None:
    """Panels of both halves run out to the bleed, but not at the fold, however pixels are spared.

    Three panels side by side on the left and two on the right give up different numbers of pixels.
    """
    halves = [{"tiers": [3, 1]}, {"tiers": [2, 2]}]
    entries = {str(number): {"bleed": "all"} for number in range(1, 9)}
    format = {"spare_pixels": spare, "safe_area": {"top": "41 px", "bottom": "40 px",
              "inside": "40 px", "outside": "40 px"}}  # fmt: skip
    plan = spread(direction, format, halves=halves, panel=entries)
    panels = sorted(plan.panels, key=lambda panel: (panel.box.top, panel.box.left))
    left = [panel for panel in panels if panel.box.right <= 620]
    right = [panel for panel in panels if panel.box.right > 620]
    assert [sorted(p.bleed) for p in left] == [
        ["left", "top"], ["top"], ["top"], ["bottom", "left"]
    ]  # fmt: skip
    assert [sorted(p.bleed) for p in right] == [
        ["top"], ["right", "top"], ["bottom"], ["bottom", "right"]
    ]  # fmt: skip
    assert {p.box.left for p in left if "left" in p.bleed} == {0}
    assert {p.box.right for p in right if "right" in p.bleed} == {1240}
    assert {p.box.top for p in plan.panels if "top" in p.bleed} == {0}
    assert {p.box.bottom for p in plan.panels if "bottom" in p.bleed} == {840}


def test_gutters_of_each_half() -> None:
    """A half may have its own gutters; the page's hold where it has none."""
    halves = [{"columns": [1, 1], "gutter": "30 px"}, {"columns": [1, 1]}]
    found = boxes(spread(halves=halves, gutter="20 px"))
    assert [found[1][0] - found[0][2], found[3][0] - found[2][2]] == [30, 20]


def test_halves_run_out_at_their_outer_edges() -> None:
    """A panel of a half runs to the bleed on its outside, top and bottom, never at the fold."""
    keys: dict[str, Any] = {"halves": [{"panels": 1}, {"panels": 1}]}
    panel = {"1": {"bleed": "outside"}, "2": {"bleed": ["outside", "top", "bottom"]}}
    assert boxes(spread(**keys, panel=panel)) == [[0, 60, 580, 780], [660, 0, 1240, 840]]
    panel = {"1": {"bleed": "all"}, "2": {"bleed": "all"}}
    assert boxes(spread(**keys, panel=panel)) == [[0, 0, 580, 840], [660, 0, 1240, 840]]


@pytest.mark.parametrize(
    ("width", "columns"), [("20 px", (610, 630)), ("0.4 in", (600, 640)), ("1 px", (619, 621))]
)
def test_the_fold_strip_of_a_spread(width: str, columns: tuple[int, int]) -> None:
    """A spread has the strip as far on both sides of the fold, from top to bottom of the trim."""
    plane = pixels(spread(panels="splash", format={"fold_strip": width}), "Fold strip")
    begin, end = columns
    assert plane[20:820, begin:end].all()
    assert plane.astype(bool).sum() == (end - begin) * 800


@directions
def test_the_fold_strip_of_a_page(direction: str) -> None:
    """A left page has the strip's left half at its right edge, a right page the other half."""
    text = issue(SPLASH, SPLASH, direction=direction, format={"fold_strip": "20 px"})
    for plan in plans(text):
        plane = pixels(plan, "Fold strip")
        begin, end = (20, 30) if plan.side == "right" else (610, 620)
        assert plane[20:820, begin:end].all()
        assert plane.astype(bool).sum() == 10 * 800


def test_no_fold_strip_without_a_fold() -> None:
    """Pages that do not face each other have no strip, and neither has a preset without one."""
    alone = page(SPLASH, format={"fold_strip": "20 px", "facing": False})
    assert "Fold strip" not in layers(alone)
    assert "Fold strip" not in layers(spread(panels="splash"))


def test_halves_need_a_spread() -> None:
    """Halves on a page that is no spread are refused, with what to write."""
    assert refusal(SPLASH, {"halves": [{"panels": 1}, {"panels": 1}]}) == (
        "pages[2].halves: a single page has no halves. Add spread = true."
    )


@pytest.mark.parametrize("number", [1, 3])
def test_a_spread_has_two_halves(number: int) -> None:
    """One half or three are refused."""
    text = refusal(SPLASH, {"spread": True, "halves": [{"panels": 1}] * number})
    said = {1: "entry 2 of this list is missing. Add it", 3: "this list is too long. Write at most "
            "2 entries"}  # fmt: skip
    assert text == f"pages[2].halves: {said[number]}."


def test_halves_and_another_content_are_refused() -> None:
    """A spread has halves or one layout across, not both."""
    text = refusal(SPLASH, {"spread": True, "halves": [1, 1], "tiers": [2]})
    assert text == "pages[2].halves: tiers and halves are both here. Write one of them."
