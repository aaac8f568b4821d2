"""Where the canvases of a scroll end, what they number, and where delivered slices end on them."""

from itertools import accumulate
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st
from support.laid_out_pages import boxes, issue, pixels, plans, refusal
from support.scrolls import GAPS, PART, SCREEN, places, scroll, tall

heights = st.integers(40, 9_000).map(lambda n: {"height": f"{n} px"})
screens = st.integers(1, 88).map(lambda n: {"height": f"{n / 10} screens"})
ratios = st.tuples(st.integers(1, 9), st.integers(1, 9)).map(lambda r: {"ratio": f"{r[0]}:{r[1]}"})
gaps = st.sampled_from([*GAPS, "0 px", "1 px", "2501 px"]).map(lambda gap: {"gap": gap})
items = st.builds(
    lambda height, gap, full, inside: height | gap | {"full": full, "inside": inside},
    heights | screens | ratios,
    st.just({}) | gaps,
    st.booleans(),
    st.integers(1, 3),
)


@given(st.lists(items, min_size=1, max_size=25))
@settings(phases=set(Phase) - {Phase.shrink})  # a minute's work
def test_every_scroll(listed: list[dict[str, Any]]) -> None:
    """No panel is cut, no canvas is higher than the limit, and put together they are the scroll.

    All canvases are parts of page 1, and panels are counted from part to part.
    """
    found = scroll(*listed)
    assert {plan.numbers for plan in found} == {(1,)}
    parts = [plan.part for plan in found]
    assert parts == ([*range(1, len(found) + 1)] if len(found) > 1 else [None])
    numbers = [panel.number for plan in found for panel in plan.panels]
    assert numbers == list(range(1, 1 + sum(item["inside"] for item in listed)))
    tops = [0, *accumulate(plan.boxes.canvas.height for plan in found)]
    expected = places(listed)
    assert tops[-1] == expected[-1][1]
    assert all(top % 2 == 0 for top in tops), "cut on whole pixels of the delivery"
    assert max(plan.boxes.canvas.height for plan in found) <= PART
    mine = []
    for plan, top in zip(found, tops, strict=False):
        assert all(plan.boxes.canvas.holds(panel.box) for panel in plan.panels)
        mine += [(frame.top + top, frame.bottom + top) for frame in plan.frames]
    assert mine == expected


@given(st.lists(items, min_size=1, max_size=15))
def test_screens_over_all_canvases(listed: list[dict[str, Any]]) -> None:
    """A line marks the end of every delivered slice, counted over all canvases from the top.

    Where a slice ends between two canvases there is nothing to draw.
    """
    found = scroll(*listed)
    tops = [0, *accumulate(plan.boxes.canvas.height for plan in found)]
    marks = [y + top for plan, top in zip(found, tops, strict=False) for y in plan.screens]
    assert marks == [y for y in range(SCREEN, tops[-1], SCREEN) if y not in tops]


def test_canvases_end_in_the_middle_of_a_gap() -> None:
    """Where a scroll goes on with another canvas, half of the gap is on each."""
    found = scroll(tall(20_000), tall(20_000), tall(5_000))
    assert [plan.boxes.canvas.height for plan in found] == [20_350, 20_700, 5_350]
    assert [plan.panels[0].box.top for plan in found] == [0, 350, 350]


@pytest.mark.parametrize("height", [PART, PART - 2, PART - 600, PART - 700])
def test_a_gap_does_not_make_a_canvas_too_tall(height: int) -> None:
    """A canvas that a panel fills has no room for half of a gap, and stays within the limit."""
    found = scroll(tall(height), tall(500))
    assert max(plan.boxes.canvas.height for plan in found) <= PART
    assert sum(plan.boxes.canvas.height for plan in found) == height + 700 + 500


def test_a_first_gap_counts_too() -> None:
    """A first panel that is too tall for a canvas with the gap above it is refused."""
    first = tall(PART - 1000) | {"gap": "scene"}
    assert "scroll[1]: this panel with the gap before it takes 26200 px" in refusal(
        {"scroll": [first]}, preset="vertical-scroll"
    )


def test_pages_after_a_scroll_keep_their_numbers() -> None:
    """A scroll is one page: its canvases are parts of it, and the next page has the next number."""
    text = issue(
        {"scroll": [tall(20_000)] * 3}, {"tiers": [1, 2]}, {"scroll": [tall(20_000)] * 2},
        {"tiers": [1]}, preset="vertical-scroll", file_name="well",
    )  # fmt: skip
    found = plans(text)
    names = ["p001-1", "p001-2", "p001-3", "p002", "p003-1", "p003-2", "p004"]
    assert [plan.file_name for plan in found] == [f"well-{name}" for name in names]
    assert [plan.numbers for plan in found] == [(n,) for n in (1, 1, 1, 2, 3, 3, 4)]
    assert found[1].called == "page 1, part 2"
    assert [plan.panels[0].number for plan in found] == [1, 2, 3, 1, 1, 2, 1]


def test_screen_marks_are_drawn() -> None:
    """Every end of a slice is a dashed level line over the whole width of the canvas."""
    first, second = scroll(tall(20_000), tall(10_000))
    height = first.boxes.canvas.height
    assert height == 20_350
    for plan, ends in ((first, range(2560, 20_350, 2560)), (second, range(130, 10_350, 2560))):
        plane = pixels(plan, "Screen marks")
        rows = sorted({y for y in range(plane.shape[0]) if plane[y].any()})
        assert rows == sorted(y + d for y in ends for d in (-1, 0))
        assert plane[rows[0], 0] == plane[rows[0], -1] == 255
        assert 0.4 < plane[rows[0]].mean() / 255 < 0.6
    assert (20_350 + 130) % SCREEN == 0


@pytest.mark.parametrize(("delivery", "step"), [("1600 px", 1), ("800 px", 2), ("400 px", 4)])
def test_edges_are_whole_pixels_of_the_delivery(delivery: str, step: int) -> None:
    """Heights and gaps are whole pixels as delivered where the drawing is so many times as wide."""
    changes = {"scroll": {"delivery_width": delivery}}
    listed = [tall(1001), tall(1003) | {"gap": "333 px"}, {"ratio": "7:5"}]
    (plan,) = scroll(*listed, format=changes)
    edges = [y for box in boxes(plan) for y in (box[1], box[3])]
    assert all(y % step == 0 for y in edges)
    assert edges[1] == step * ((1001 * 2 + step) // (2 * step))


def test_a_delivery_that_is_no_whole_part() -> None:
    """Where the delivery is no whole part of the drawing, lengths are rounded as drawn."""
    (plan,) = scroll(tall(1001), tall(27), format={"scroll": {"delivery_width": "690 px"}})
    assert boxes(plan) == [[80, 0, 1520, 1001], [80, 1701, 1520, 1728]]
