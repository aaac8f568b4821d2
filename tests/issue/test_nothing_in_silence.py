"""What would do nothing where it stands is refused, with what to write instead."""

from typing import Any

import pytest
from support.laid_out_pages import boxes, page, pixels, refusal

SPLASH = {"panels": "splash"}
HEAD = "page 1, pages[1]."


@pytest.mark.parametrize(
    ("layout", "said"),
    [
        (
            {"tiers": [1, {"panels": 2, "width": 3}]},
            "tiers[2].width: a tier has the whole width of what it stands in. "
            "Leave it out, or write widths or heights for what is in the tier.",
        ),
        (
            {"columns": [{"panels": 2, "height": "3 cm"}, 1]},
            "columns[1].height: a column has the whole height of what it stands in. "
            "Leave it out, or write widths or heights for what is in the column.",
        ),
        (
            {"tiers": [1, {"panels": 2, "height": 3}], "heights": [1, 2]},
            "tiers[2].height: heights beside the list give this tier its height already. "
            "Leave one of them out.",
        ),
        (
            {"tiers": [{"columns": [1, {"width": 2}], "widths": [1, 2]}]},
            "tiers[1].columns[2].width: widths beside the list give this column its width already. "
            "Leave one of them out.",
        ),
    ],
    ids=["width of a tier", "height of a column", "height twice", "width twice"],
)
def test_shares_that_would_do_nothing(layout: dict[str, Any], said: str) -> None:
    """A share across the way parts lie, or one that a list overrides, is refused."""
    assert refusal(layout) == HEAD + said


def test_all_shares_that_would_do_nothing_are_told() -> None:
    """Every such share of a list is told at once."""
    text = refusal({"tiers": [{"width": 2}, {"width": 3}]})
    assert [line.split(":")[0] for line in text.splitlines()] == [
        f"{HEAD}tiers[1].width",
        f"{HEAD}tiers[2].width",
    ]


def test_halves_have_the_size_of_their_pages() -> None:
    """A half of a spread is a page, which has neither width nor height of its own."""
    halves = [{"tiers": [1, 1], "width": 2}, {"panels": 1}]
    text = refusal(SPLASH, {"spread": True, "halves": halves})
    assert "halves[1].width: half of a spread has no width of its own" in text


def test_what_is_inside_a_place_of_a_scroll() -> None:
    """A place of a scroll has its own height, and what is inside it fills that."""
    item = {"height": "600 px", "inside": {"panels": 2, "height": 2}}
    text = refusal({"scroll": [item]}, preset="vertical-scroll")
    assert "scroll[1].inside.height: what is inside has the whole height of its place" in text


@pytest.mark.parametrize(
    "layout",
    [
        {"panels": "spread-two-tiers"},
        {"tiers": [1, "spread-two-tiers"]},
        {"panels": "own"},
    ],
)
def test_a_layout_for_spreads_on_a_single_page(layout: dict[str, Any]) -> None:
    """A layout that is made for a spread is refused on a single page, wherever it is named."""
    own = {"own": {"tiers": ["spread-two-tiers"]}}
    text = refusal(layout, layouts=own)
    assert 'the layout "spread-two-tiers" is made for a spread, and this is a single page' in text
    assert text.endswith("Add spread = true to the page, or take another layout.")


def test_a_layout_for_spreads_in_a_half() -> None:
    """Half of a spread is a single page, and the half is named."""
    halves = [{"panels": 1}, {"panels": "spread-two-tiers"}]
    text = refusal(SPLASH, {"spread": True, "halves": halves})
    assert text.startswith('pages 2 and 3, pages[2].halves[2].panels: the layout "spread-two-')


def test_layouts_on_a_spread() -> None:
    """On a spread layouts for spreads have their place, and those for single pages fill it."""
    assert len(boxes(page(SPLASH, {"spread": True, "panels": "spread-two-tiers"}))) == 2
    assert boxes(page(SPLASH, {"spread": True, "panels": "splash"})) == [[60, 60, 1180, 780]]


def test_an_empty_place_is_no_panel() -> None:
    """A dot in a map is numbered by nothing and has no border; the page's other edges stay."""
    plan = page({"map": "A .\nB C"})
    assert boxes(plan) == [[60, 60, 315, 412], [60, 428, 315, 780], [325, 428, 580, 780]]
    assert not pixels(plan, "Panel borders")[60:420, 320:].any()
    tint = pixels(plan, "Gutters")
    assert tint[60:428, 315:325].all(), "round an empty place are gutters"
    assert tint[412:428, 315:580].all()
    assert not tint[60:412, 325:].any(), "and it is none itself"


def test_a_panel_beside_an_empty_place_runs_out_on_its_own_side() -> None:
    """What lies at an empty place is not at the edge of the page."""
    plan = page({"map": "A .\nB C", "panel": {"A": {"bleed": "all"}}})
    assert sorted(plan.panels[0].bleed) == ["left", "top"]


@pytest.mark.parametrize(
    ("letters", "said"),
    [(".", "no letter is on this map"), ("A .B", 'Write ". B".')],
)
def test_maps_with_dots_that_say_nothing(letters: str, said: str) -> None:
    """A map of dots alone has no panel; a dot beside a letter is a slip."""
    assert said in refusal({"map": letters})
