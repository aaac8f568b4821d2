"""Insets: where they lie, how large they are and in which order they are read.

The panel of a splash is (60, 60, 580, 780), 520 × 720 pixels; the gutter across is 10 pixels and
the border 4.
"""

from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.inset_pages import inset, splash
from support.laid_out_pages import boxes, outlines, page, pixels, refusal
from support.reference import reference

from guidekit.plane.box import Box


@pytest.mark.parametrize(
    ("corner", "box"),
    [
        ("top-left", [74, 74, 174, 154]),
        ("top-right", [466, 74, 566, 154]),
        ("bottom-left", [74, 686, 174, 766]),
        ("bottom-right", [466, 686, 566, 766]),
    ],
)
def test_corners(corner: str, box: list[int]) -> None:
    """In a corner an inset keeps a gutter's distance from the inside of the panel's border."""
    assert boxes(page(splash(inset(corner=corner)))) == [[60, 60, 580, 780], box]


@pytest.mark.parametrize(
    ("keys", "box"),
    [
        ({"gutter": "0 px"}, [60, 60, 160, 140]),
        ({"gutter": "0 px", "border": False}, [64, 64, 164, 144]),
        ({"gutter": "0.3 in", "corner": "bottom-right"}, [446, 666, 546, 746]),
        ({"width": "25 %", "height": "12.5 %"}, [74, 74, 204, 164]),
        ({"width": "2 in", "corner": "top-right"}, [366, 74, 566, 154]),
        ({"at": ["0 px", "0 px"]}, [60, 60, 160, 140]),
        ({"at": ["40 px", "30 %"]}, [100, 276, 200, 356]),
        ({"at": ["50 %", "1 in"], "width": "50 %", "gutter": "7 px"}, [320, 160, 580, 240]),
        ({"at": ["10.1 %", "10.05 %"]}, [113, 132, 213, 212]),
    ],
)
def test_places_and_sizes(keys: dict[str, Any], box: list[int]) -> None:
    """Sizes and places are lengths or percentages of the panel, from its upper left, half up."""
    assert boxes(page(splash(inset(**keys))))[1] == box


def test_over_several_panels() -> None:
    """Over several panels an inset measures from the box that holds them."""
    layout = {"tiers": [2, 2], "insets": [inset(over=[1, 2], corner="bottom-right", width="50 %")]}
    plan = page(layout)
    assert boxes(plan)[2] == [306, 318, 566, 398]


@pytest.mark.parametrize("across", [{"slant": "8 deg"}, {"bend": "20 px"}])
@pytest.mark.parametrize("keys", [{"at": ["0 %", "0 %"]}, {"corner": "bottom-left"}])
def test_over_panels_whose_side_another_crosses(
    across: dict[str, Any], keys: dict[str, Any]
) -> None:
    """Where a slanted or bent side ends within another panel, the two reach as far as they lie."""
    tiers = [2, {"panels": 2, **across}]
    plan = page({"tiers": tiers, "insets": [inset(over=[2, 4], gutter="0 px", **keys)]})
    second, inside, fourth = (plan.panels[number] for number in (1, 4, 3))
    assert plan.panels[4].number == 5
    assert inside.box.left == min(second.box.left, fourth.box.left)


READ = [
    ([inset(over=1)], [1, "inset", 2, 3]),
    ([inset(over=2)], [1, 2, "inset", 3]),
    ([inset(over=[2, 1], width="400 px")], [1, 2, "inset", 3]),
    ([inset(over=[1, 3], corner="bottom-left")], [1, 2, 3, "inset"]),
]


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
@pytest.mark.parametrize(("insets", "order"), READ)
def test_read_after_what_lies_below(
    insets: list[dict[str, Any]], order: list[Any], direction: str
) -> None:
    """An inset is read after the last of the panels below it; the others keep their order."""
    layout = {"tiers": [2, 1]}
    plain = boxes(page(layout, direction=direction))
    found = boxes(page(layout | {"insets": insets}, direction=direction))
    assert [plain.index(box) + 1 if box in plain else "inset" for box in found] == order


def test_several_insets_in_order() -> None:
    """Insets over one panel are read as they are listed, before those over later panels.

    The first two are 2 and 3 on the page, so that the other panel is 4.
    """
    corners = ["bottom-right", "top-left"]
    insets = [inset(over=4, corner="top-left"), *(inset(corner=corner) for corner in corners)]
    found = boxes(page({"tiers": [2], "insets": insets}))
    assert [box[:2] for box in found] == [[60, 60], [201, 686], [74, 74], [325, 60], [339, 74]]


def test_over_the_letter_of_a_map() -> None:
    """The panels below may be named by the letters of a map."""
    layout = {"map": "A A B\nC C B", "insets": [inset(over=["A", "C"], corner="bottom-left")]}
    assert boxes(page(layout))[2] == [74, 686, 174, 766]


@pytest.mark.parametrize(
    ("at", "box"),
    [
        (["-40 px", "0 px"], [20, 60, 120, 140]),
        (["481 px", "-10 %"], [541, -12, 641, 68]),
        (["0 px", "100 %"], [60, 780, 160, 860]),
    ],
)
def test_over_the_edge_of_their_panels(at: list[str], box: list[int]) -> None:
    """An inset may leave the panels below, into the margin and over the edge of the canvas."""
    assert boxes(page(splash(inset(at=at))))[1] == box


@pytest.mark.parametrize(
    ("keys", "size", "corner"),
    [
        ({"width": "511 px"}, "511 × 80", "top-left"),
        ({"height": "8 in", "corner": "bottom-right"}, "100 × 800", "bottom-right"),
    ],
)
def test_no_room_in_a_corner(keys: dict[str, Any], size: str, corner: str) -> None:
    """An inset that is too large for its corner is refused with its size."""
    assert refusal(splash(inset(**keys))) == (
        f"page 1, pages[1].insets[1]: an inset of {size} px has no room in the {corner} corner "
        "of the panels [60, 60, 580, 780]. Make it smaller, or move it: at most 520 × 720 px with "
        "its gutter, inside them."
    )


def test_no_room_in_a_slanted_corner() -> None:
    """In a corner an inset stays inside its panel, which a slanted side may make too narrow."""
    wide = inset(corner="bottom-right", width="250 px")
    text = refusal({"columns": [1, 1], "slant": "15 deg", "insets": [wide]})
    assert "insets[1]: an inset of 250 × 80 px has no room in the bottom-right corner" in text
    assert ", whose sides are slanted. " in text


def test_over_a_panel_with_nothing_in_the_frame() -> None:
    """A panel that shows only where it runs out has no corner for an inset."""
    leaning = {"columns": [{"empty": True}, {"triangles": "rising"}], "widths": [4, 1]}
    text = refusal(leaning | {"slant": "-10 deg", "bleed": "top", "insets": [inset()]})
    assert text == (
        "page 1, pages[1].insets[1].over: gutters leave nothing of the panels that this inset lies "
        "over. Lean or bend them less, or lay it over other panels."
    )


SLANTED: dict[str, dict[str, Any]] = {
    "columns": {"columns": [1, 1, 1]},
    "tiers": {"tiers": [1, 1, 1]},
    "both": {"tiers": [{"columns": [1, 1, 1], "slant": "-4 deg"}, 1], "slant": "3 deg"},
}


@pytest.mark.parametrize("kind", SLANTED)
@given(
    slants=st.lists(st.integers(-9, 9), min_size=2, max_size=2),
    over=st.integers(1, 3),
    corner=st.sampled_from(["top-left", "top-right", "bottom-left", "bottom-right"]),
    gutter=st.integers(1, 15),
)
def test_corners_of_slanted_panels(
    kind: str, slants: Any, over: int, corner: str, gutter: int
) -> None:
    """In a corner an inset is a gutter and a border away from both real sides, by a pixel at most.

    Distances by shapely (GEOS), an independent geometry library.
    """
    shapely = reference("shapely")
    layout = SLANTED[kind] | (
        {} if kind == "both" else {"slants": [f"{degrees} deg" for degrees in slants]}
    )
    laid = inset(over=over, corner=corner, width="60 px", height="40 px", gutter=f"{gutter} px")
    plan = page(layout | {"insets": [laid]})
    shapes = outlines(plan)
    panel, found = shapes[over - 1], shapes[over]
    assert panel.covers(found)
    down, across = corner.split("-")
    middle = panel.centroid
    for end in (across, down):
        sides = [
            side
            for side in sides_of(panel)
            if faces(side, middle) == end  # all sides of the panel that look that way
        ]
        distance = min(shapely.LineString(side).distance(found) for side in sides)
        assert gutter + 4 <= distance + 1e-9 < gutter + 5.5


def sides_of(shape: Any) -> list[Any]:
    """The sides of a polygon, each by its two ends."""
    points = list(shape.exterior.coords)
    return [(a, b) for a, b in pairwise(points) if a != b]


def faces(side: Any, middle: Any) -> str:
    """Which way a side looks from the middle of its panel: that of the four it leans to most."""
    (ax, ay), (bx, by) = side
    if abs(bx - ax) > abs(by - ay):
        return "top" if (ay + by) / 2 < middle.y else "bottom"
    return "left" if (ax + bx) / 2 < middle.x else "right"


@pytest.mark.parametrize("slant", ["12 deg", "-12 deg"])
def test_places_on_slanted_panels(slant: str) -> None:
    """A place is measured from the corner that the panel really has, in shares of its whole width.

    The panel is 255 px wide between straight gutters and leans by 720 tan 12 = 153.04 px.
    """
    layout = {"columns": [1, 1], "slant": slant}
    place = inset(over=2, at=["20 %", "100 px"], width="50 px")
    plan = page(layout | {"insets": [place]})
    sharp = plan.panels[1].sharp
    assert not isinstance(sharp, Box)
    corner = min(sharp, key=lambda point: point[0] + point[1])
    left, top, right, bottom = boxes(plan)[2]
    assert abs(left - corner[0] - 51) <= 0.5
    assert (top, right - left, bottom) == (160, 50, 240)


def test_only_panels_below_are_cut() -> None:
    """A margin wider than the gutter is not cut out of a neighbour beside the inset."""
    layout = {"tiers": [2], "insets": [inset(at=["150 px", "100 px"], gutter="30 px")]}
    plan = page(layout)  # the inset ends 5 px before its panel, 15 before the next
    assert boxes(plan)[1] == [210, 160, 310, 240]
    assert [bool(panel.cut_out) for panel in plan.panels] == [True, False, False]


def test_what_an_inset_touches_is_cut() -> None:
    """A panel that lies between those an inset is over is cut too, though it is not named."""
    layout = {"tiers": [3], "insets": [inset(over=[1, 3], at=["30 %", "10 %"], width="40 %")]}
    plan = page(layout)
    assert [bool(panel.cut_out) for panel in plan.panels] == [True, True, True, False]


def test_no_gutter_no_second_border() -> None:
    """An inset with no gutter stands in the very corner, and one line serves both borders."""
    ink = pixels(page(splash(inset(gutter="0 px"))), "Panel borders")
    assert [x for x in range(60, 200) if ink[100, x]] == [*range(60, 64), *range(156, 160)]
    assert [y for y in range(60, 200) if ink[y, 100]] == [*range(60, 64), *range(136, 140)]
    assert ink[62, 60:580].all(), "the border of the panel goes on beyond the inset"


def test_the_gutter_is_measured_from_the_border_that_is_there() -> None:
    """A panel with a heavier border than the others keeps it clear of an inset in its corner."""
    layout = splash(inset(), panel={"1": {"border": "9 px"}})
    assert boxes(page(layout))[1] == [79, 79, 179, 159]
