"""Triangles between the diagonals of a part, and gutters that lean until a part ends in a point."""

from itertools import combinations
from typing import Any

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from support.laid_out_pages import (
    FRAME,
    boxes,
    mirror_image,
    outlines,
    page,
    pixels,
    polygon,
    refusal,
)
from support.random_pages import mirrored
from support.reference import reference

from guidekit.errors import InputError
from guidekit.plane.outline import points_of

GAP = 10
EVEN = {"gutter": f"{GAP} px"}
CORNERED = {
    "falling": {"triangles": "falling"},
    "rising": {"triangles": "rising"},
    "both": {"triangles": "both"},
    "in a tier": {"tiers": [2, {"triangles": "both", "height": 2}]},
    "in a leaning column": {"columns": [1, {"triangles": "both"}], "slant": "7 deg"},
    "diagonal columns": {"columns": [1, 1], "slant": "corner"},
    "zigzag": {"columns": [1, 1, 1], "slants": ["corner", "-corner"]},
    "strip": {"columns": [1, 1, 1, 1], "widths": [1, 2, 2, 1],
              "slants": ["corner", "-corner", "corner"]},
    "tiers to a point": {"tiers": [1, 1, 1], "slants": ["-corner", "corner"]},
    "to a slant": {"columns": [1, 1, 1], "slants": ["corner", "-9 deg"]},
}  # fmt: skip


@pytest.mark.parametrize("layout", CORNERED.values(), ids=CORNERED)
def test_nothing_is_lost(layout: dict[str, Any]) -> None:
    """Panels lie in the frame a gutter apart; grown by half of it they cover the frame once."""
    shapely = reference("shapely")
    found, frame = outlines(page(layout, format=EVEN)), shapely.box(*FRAME)
    assert all(frame.buffer(1e-6).covers(polygon) for polygon in found)
    for a, b in combinations(found, 2):
        assert a.distance(b) > GAP - 1e-6
    grown = [
        frame & polygon.buffer(GAP / 2, join_style="mitre", mitre_limit=90) for polygon in found
    ]
    assert sum(polygon.area for polygon in grown) == pytest.approx(frame.area, abs=1e-3)
    assert shapely.union_all(grown).area == pytest.approx(frame.area, abs=1e-3)


def test_a_falling_diagonal() -> None:
    """The gutter lies half on either side of the diagonal, the upper panel is read first."""
    upper, lower = page({"triangles": "falling"}, format=EVEN).panels
    along = (520**2 + 720**2) ** 0.5
    across, down = 5 * along / 720, 5 * along / 520  # from a corner to where the gutter ends
    for panel, corners in (
        (upper, [(60 + across, 60), (580, 60), (580, 780 - down)]),
        (lower, [(60, 60 + down), (580 - across, 780), (60, 780)]),
    ):
        exact = reference("shapely").Polygon(corners)
        assert len(points_of(panel.outline)) == 3
        assert polygon(panel.outline).symmetric_difference(exact).area < 1e-6


def test_which_gutter() -> None:
    """A tall part has the gutter of panels side by side, a wide one that of tiers."""
    for tall, gap in ((True, 10), (False, 16)):
        part = {"triangles": "falling"}
        layout = {"columns": [part, 1]} if tall else {"tiers": [part, 2, 1]}
        a, b, *_ = outlines(page(layout))
        assert a.distance(b) == pytest.approx(gap)


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
def test_reading_order(direction: str) -> None:
    """Above, then at the sides in the book's direction, then below."""
    found = outlines(page({"triangles": "both"}, direction=direction))
    above, first, second, below = (polygon.centroid for polygon in found)
    assert above.x == pytest.approx(below.x) == pytest.approx(320)
    assert above.y < first.y < below.y
    assert first.y == pytest.approx(second.y)
    assert (first.x < second.x) == (direction == "ltr")


@pytest.mark.parametrize("layout", CORNERED.values(), ids=CORNERED)
def test_left_pages_are_the_mirror_image(layout: dict[str, Any]) -> None:
    """A named layout in a book read to the left is the mirror image of the same on a right page."""
    right = outlines(page(layout))
    left = outlines(page({"panels": "own"}, direction="rtl", layouts={"own": layout}))
    written = outlines(page(mirrored(layout), direction="rtl"))
    turned = [mirror_image(polygon) for polygon in right]
    for found in (left, written):
        for one in turned:
            assert min(one.symmetric_difference(x).area for x in found) < 1e-6


def test_to_the_corner() -> None:
    """One gutter alone leans until the panels beside it end in corners of their part."""
    left, right = outlines(page({"columns": [1, 1], "slant": "corner"}, format=EVEN))
    assert {(60, 60), (60, 780)} < {*left.exterior.coords}
    assert {(580, 60), (580, 780)} < {*right.exterior.coords}
    assert len(left.exterior.coords) == len(right.exterior.coords) == 4  # the first comes twice
    assert left.distance(right) == pytest.approx(GAP)


def test_zigzag() -> None:
    """Gutters that lean toward each other meet in a point, of a part as wide as its neighbours."""
    middle = outlines(page({"columns": [1, 1, 1], "slants": ["corner", "-corner"]}))[1]
    tops = [x for x, y in middle.exterior.coords if y < 60.001]
    assert tops == pytest.approx([320] * len(tops), abs=0.51)
    assert len({round(x) for x in tops}) == 1


def test_beyond_a_point() -> None:
    """Where panels run out, those beside a part that ends in a point stay a gutter apart."""
    plan = page({"columns": [1, 1, 1], "slants": ["corner", "-corner"], "bleed": "all"})
    a, b, c = outlines(plan)
    assert a.distance(c) == pytest.approx(10)
    assert a.bounds[1] == c.bounds[1] == 0
    assert a.distance(b) == pytest.approx(10)


def test_triangles_run_out_along_their_diagonals() -> None:
    """On a page of full bleed the diagonals go on to the edge, and no other gap opens."""
    shapely = reference("shapely")
    found = outlines(page({"triangles": "both", "bleed": "all"}, format=EVEN))
    grown = [p.buffer(GAP / 2 + 1e-6, join_style="mitre", mitre_limit=90) for p in found]
    missing = shapely.box(0, 0, 640, 840) - shapely.union_all(grown)
    assert missing.area < 120  # at the four corners of the canvas, which the diagonals miss
    for a, b in combinations(found, 2):
        assert a.distance(b) > GAP - 1e-6


def test_the_tint_of_a_gutter_through_a_corner() -> None:
    """Where panels run out round a corner, the gutter between them is tinted to the edge."""
    plan = page({"triangles": "both", "bleed": "all"}, format=EVEN)
    tint, shapely = pixels(plan, "Gutters"), reference("shapely")
    outside = shapely.box(0, 0, 640, 840) - shapely.union_all(outlines(plan))
    for x, y in ((20, 10), (620, 10), (20, 830), (620, 830), (320, 420)):
        assert bool(tint[y, x]) == outside.contains(shapely.Point(x + 0.5, y + 0.5))
    assert tint.sum() / 255 == pytest.approx(outside.area, rel=0.01)


def test_alike_all_the_way() -> None:
    """Gutters that lean to corners alike are parallel, and between them stand joined shapes too."""
    cell = {"map": "A B\nA A"}
    found = outlines(page({"columns": [cell] * 3, "slant": "corner"}, format=EVEN))
    assert len(found) == 6
    for a, b in combinations(found, 2):
        assert a.distance(b) > GAP - 1e-3


def test_no_place_for_triangles() -> None:
    """Triangles in a part of which a gutter leaves nothing are told."""
    part = {"columns": [{"triangles": "both"}, 1], "widths": ["10 px", 1]}
    text = refusal({"columns": [1, part], "bend": [["0 %", "30 px"], ["100 %", "30 px"]]})
    assert "in panel 2, slanted gutters leave nothing of this panel" in text


slants = st.sampled_from(["corner", "-corner", "corner", "-corner", "4 deg", "-4 deg", "0 deg"])


@st.composite
def rows(draw: st.DrawFn) -> dict[str, Any]:
    """Columns or tiers of any widths with gutters that lean to corners and otherwise."""
    number = draw(st.integers(2, 6))
    key, shares = draw(st.sampled_from([("columns", "widths"), ("tiers", "heights")]))
    weights = draw(st.lists(st.integers(1, 5), min_size=number, max_size=number))
    given = draw(st.lists(slants, min_size=number - 1, max_size=number - 1))
    return {key: [1] * number, shares: weights, "slants": given}


@given(rows(), st.sampled_from([None, "all"]))
def test_any_row(layout: dict[str, Any], bleed: str | None) -> None:
    """However gutters lean to corners, panels never overlap and stay a gutter apart."""
    try:
        plan = page(layout | ({"bleed": bleed} if bleed else {}), format=EVEN)
    except InputError:
        assume("deg" in str(layout["slants"]))  # of which others lean too far already
        return
    found = outlines(plan)
    for a, b in combinations(found, 2):
        assert a.distance(b) > GAP - 1e-6
    assert all(polygon.area > 0 for polygon in found)


@pytest.mark.parametrize(
    ("layout", "said"),
    [
        (
            {"triangles": "both", "widths": [1, 2]},
            "pages[1].widths: widths and triangles are both here, and triangles meet in the "
            "corners of their part. Leave widths out.",
        ),
        (
            {"triangles": "all"},
            'pages[1].triangles: "all" is not "falling", "rising" or "both". '
            'Did you mean "falling"?',
        ),
        (
            {"triangles": "both", "panel": {"2": {"bleed": "top"}}},
            'page 1, pages[1].panel.2.bleed: "top" is not a side on which this panel lies at the '
            'edge of the page. Write "inside".',
        ),
        (
            {"columns": [1, 1], "slant": "to the corner"},
            'pages[1].slant: "to the corner" is not a slant. Write an angle such as "10 deg", a '
            'length such as "8 mm", or "corner".',
        ),
    ],
)
def test_wrong(layout: dict[str, Any], said: str) -> None:
    """What triangles cannot have is told with what would do."""
    assert refusal(layout) == said


def test_boxes_of_triangles() -> None:
    """The box of a triangle is the smallest round it, and centre lines and insets go by that."""
    top, left, right, bottom = boxes(page({"triangles": "both"}, format=EVEN))
    assert top[3] < 420 < bottom[1]
    assert left[2] < 320 < right[0]
