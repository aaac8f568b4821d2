"""Laws of nested layouts: nothing is lost or counted twice, and equal things are equal."""

from itertools import combinations, count
from typing import Any

from hypothesis import given
from hypothesis import strategies as st
from support.laid_out_pages import boxes, page
from support.page_walk import Walk, area, px
from support.random_pages import ROOM, layouts, mirrored

DPI = 150
LARGE = {
    "dpi": DPI,
    "trim": {"width": f"{ROOM + 331} px", "height": f"{ROOM + 400} px"},
    "safe_area": {"top": "150 px", "bottom": "97 px", "inside": "201 px", "outside": "130 px"},
    "gutter": {"across": "2 mm", "down": "0.1 in"},
    "border": "0 px",
}
directions = st.sampled_from(["ltr", "rtl"])
Layout = dict[str, Any]


def laid_out(layout: Layout, direction: str = "ltr", **changes: Any) -> list[list[int]]:
    """The boxes of a layout on page 1, by number."""
    return boxes(page(layout, direction=direction, format=LARGE | changes))


@given(layouts, directions)
def test_panels_and_gutters_fill_the_frame(layout: Layout, direction: str) -> None:
    """Every part is where it is written, and panels and gutters together are the frame."""
    plan = page(layout, direction=direction, format=LARGE)
    found, numbers = boxes(plan), count()
    walk = Walk(
        found, numbers, 1 if direction == "ltr" else -1, DPI, px("2 mm", DPI), px("0.1 in", DPI)
    )
    whole, between = walk.part(layout)
    assert whole == plan.boxes.safe_area.as_list()
    assert next(numbers) == len(found), "every panel has its place in reading order"
    assert area(whole) == sum(map(area, found)) + between


@given(layouts, directions)
def test_no_two_panels_overlap(layout: Layout, direction: str) -> None:
    """Every panel has at least a pixel, and no pixel is in two."""
    found = laid_out(layout, direction)
    assert all(left < right and top < bottom for left, top, right, bottom in found)
    for a, b in combinations(found, 2):
        assert a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]


@given(layouts)
def test_left_pages_are_the_mirror_image(layout: Layout) -> None:
    """The mirrored layout on a left page, read to the left, has the mirrored boxes in order."""
    right = page(layout, format=LARGE)
    left = page(mirrored(layout), direction="rtl", format=LARGE)
    assert (right.side, left.side) == ("right", "left")
    width = right.boxes.canvas.width
    assert boxes(left) == [[width - c, b, width - a, d] for a, b, c, d in boxes(right)]


@given(layouts)
def test_named_layouts_turn_round_by_themselves(layout: Layout) -> None:
    """A named layout is mirrored in a book read to the left, unless it says `mirror = false`."""
    named = {"panels": "own"}
    turned = page(named, direction="rtl", format=LARGE, layouts={"own": layout})
    assert boxes(turned) == laid_out(mirrored(layout), "rtl")
    kept = page(named, direction="rtl", format=LARGE, layouts={"own": layout | {"mirror": False}})
    assert boxes(kept) == laid_out(layout, "rtl")


@given(layouts, directions, st.integers(1, 9))
def test_depth_changes_nothing(layout: Layout, direction: str, depth: int) -> None:
    """A layout in a list of one in a list of one lies where it lies by itself."""
    nested = layout
    for _ in range(depth):
        nested = {"tiers": [{"columns": [nested]}]}
    assert laid_out(nested, direction) == laid_out(layout, direction)


def tier(number: int) -> st.SearchStrategy[Any]:
    """A number of panels, with or without whole weights."""
    weights = st.lists(st.integers(1, 3), min_size=number, max_size=number)
    return st.just({"panels": number}) | st.fixed_dictionaries(
        {"panels": st.just(number), "widths": weights}
    )


tiers = st.integers(1, 4).flatmap(tier)
columns = st.lists(st.integers(1, 3).map(lambda n: {"panels": n}), min_size=1, max_size=3)
even = st.lists(tiers | st.fixed_dictionaries({"columns": columns}), min_size=1, max_size=3)


@given(even, directions)
def test_exactly_equal(parts: list[Layout], direction: str) -> None:
    """With spare_pixels = "margin" equal weights are equal to the pixel, in nested lists too.

    The frame gives up less than a twentieth for it, half of it at either end.
    """
    layout = {"tiers": parts}
    plan = page(layout, direction=direction, format=LARGE | {"spare_pixels": "margin"})
    step = 1 if direction == "ltr" else -1
    gaps = px("2 mm", DPI), px("0.1 in", DPI)
    whole, _ = Walk(boxes(plan), count(), step, DPI, *gaps, exact=True).part(layout)
    frame = plan.boxes.safe_area.as_list()
    for low, high in ((0, 2), (1, 3)):
        near, far = whole[low] - frame[low], frame[high] - whole[high]
        assert 0 <= near + far < (frame[high] - frame[low]) / 20
        assert abs(near - far) <= 1
