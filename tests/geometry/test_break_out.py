"""Panels that break out of their place: into gutters, over neighbours, into the margin."""

from typing import Any

import pytest
from support.laid_out_pages import boxes, outlines, page, pixels, refusal

from guidekit.plane.outline import box_of

TIERS = {"tiers": [2, 1]}  # gutters of 10 px across and 16 px down
BEFORE = [[60, 60, 315, 412], [325, 60, 580, 412], [60, 428, 580, 780]]


def breaking(number: int, **sides: str) -> dict[str, Any]:
    """The tiers with one panel that breaks out."""
    return TIERS | {"panel": {str(number): {"break_out": sides}}}


@pytest.mark.parametrize(
    ("number", "sides", "box"),
    [
        (1, {"right": "10 px"}, [60, 60, 325, 412]),
        (1, {"right": "4 px", "bottom": "16 px"}, [60, 60, 319, 428]),
        (2, {"left": "0.1 in"}, [315, 60, 580, 412]),
        (3, {"top": "2 mm"}, [60, 420, 580, 780]),
        (3, {"top": "0 px"}, [60, 428, 580, 780]),
    ],
)
def test_breaking_out(number: int, sides: dict[str, str], box: list[int]) -> None:
    """A side moves out by the length, up to the whole gutter, and nothing else moves."""
    expected = [*BEFORE]
    expected[number - 1] = box
    assert boxes(page(breaking(number, **sides))) == expected


@pytest.mark.parametrize(
    ("number", "sides", "over", "hole"),
    [
        (1, {"right": "40 px"}, 2, [50, 50, 365, 422]),
        (1, {"bottom": "17 px"}, 3, [50, 50, 325, 439]),
        (3, {"top": "0.2 in"}, 1, [50, 398, 590, 790]),
        (2, {"left": "30 px"}, 1, [285, 50, 590, 422]),
    ],
)
def test_over_a_neighbour(number: int, sides: dict[str, str], over: int, hole: list[int]) -> None:
    """Beyond the gutter a panel runs over its neighbour, out of which its margin is cut."""
    panels = page(breaking(number, **sides)).panels
    assert [box_of(cut).as_list() for cut in panels[over - 1].cut_out] == [hole]
    assert not panels[number - 1].cut_out


@pytest.mark.parametrize("level", [-1, 1])
def test_over_or_under_by_level(level: int) -> None:
    """A neighbour of a higher level lies above the panel that breaks out, and cuts it."""
    layout = breaking(1, right="40 px")
    layout["panel"]["2"] = {"level": level}
    plan = page(layout)
    assert [bool(panel.cut_out) for panel in plan.panels[:2]] == [level > 0, level < 0]


def test_into_the_margin_and_beyond() -> None:
    """At the edge of the frame a panel breaks out into the margin, the bleed and off the canvas."""
    assert boxes(page(breaking(1, left="70 px", top="10 px")))[0] == [-10, 50, 315, 412]


def test_two_panels_in_one_gutter() -> None:
    """Two panels may break into the same gutter if it is wide enough; else the later lies above."""
    panel = {"1": {"break_out": {"right": "5 px"}}, "2": {"break_out": {"left": "5 px"}}}
    plan = page(TIERS | {"panel": panel})
    assert boxes(plan)[:2] == [[60, 60, 320, 412], [320, 60, 580, 412]]
    assert not any(panel.cut_out for panel in plan.panels)
    panel["2"] = {"break_out": {"left": "6 px"}}
    plan = page(TIERS | {"panel": panel})
    assert [bool(panel.cut_out) for panel in plan.panels] == [True, False, False]


@pytest.mark.parametrize(
    ("layout", "side"),
    [
        ({"columns": [1, 1], "slant": "8 deg", "panel": {"1": {}}}, "right"),
        ({"tiers": [1, 1], "panel": {"1": {"bleed": "top"}}}, "top"),
    ],
    ids=["slanted", "bleeding"],
)
def test_sides_that_cannot_break_out(layout: dict[str, Any], side: str) -> None:
    """A slanted side, or one that runs to the bleed, does not break out."""
    layout["panel"]["1"]["break_out"] = {side: "3 px"}
    assert refusal(layout) == (
        f"page 1, pages[1].panel.1.break_out.{side}: this side is slanted, or runs to the bleed. "
        "Take a straight side that does not."
    )


def test_a_straight_side_of_a_slanted_panel() -> None:
    """A panel with a slanted side breaks out at a straight one into the gutter that is there."""
    layout = {"tiers": [{"panels": 2, "slant": "10 deg"}, 1]}
    plan = page(layout | {"panel": {"1": {"break_out": {"bottom": "9 px"}}}})
    assert plan.panels[0].box.bottom == 412 + 9
    left, right, below = outlines(plan)
    assert left.distance(right) == pytest.approx(10, abs=1e-6)
    assert left.distance(below) == pytest.approx(16 - 9, abs=1e-6)


def test_the_gutter_is_that_much_smaller() -> None:
    """The tint of the gutters ends at the panel that breaks out, and its border lies inside it."""
    plan = page(breaking(1, right="7 px"))
    tint, ink = pixels(plan, "Gutters")[200], pixels(plan, "Panel borders")[200]
    assert [x for x in range(640) if tint[x]] == [322, 323, 324]
    assert [x for x in range(300, 325) if ink[x]] == [318, 319, 320, 321]
