"""Gutters that bend, in arcs and from point to point: as wide everywhere, exact, mirrored."""

from itertools import combinations
from math import hypot
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.areas import SMALL, covered, worst
from support.laid_out_pages import FRAME, mirror_image, outlines, page, pixels, polygon, refusal
from support.random_pages import mirrored
from support.reference import reference

from guidekit.errors import InputError
from guidekit.geometry.measure import measured
from guidekit.plane.outline import points_of

GAP = 10
EVEN = {"gutter": f"{GAP} px"}
WAVE = [["25 %", "30 px"], ["75 %", "-30 px"]]
BENT: dict[str, dict[str, Any]] = {
    "arc": {"columns": [1, 1], "bend": "60 px"},
    "level arc": {"tiers": [1, 2], "bend": "-10 %"},
    "wave": {"tiers": [1, 1], "bend": WAVE},
    "upright wave": {"columns": [2, 1], "bend": WAVE},
    "two": {"columns": [1, 1, 1], "bends": ["40 px", "-40 px"]},
    "slanted": {"columns": [1, 1, 1], "bends": ["40 px", "0 px"], "slants": ["5 deg", "-3 deg"]},
    "nested": {"tiers": [{"panels": 2, "bend": "20 px"}, 1], "bend": "40 px"},
}


@pytest.mark.parametrize("layout", BENT.values(), ids=BENT)
def test_constant_width(layout: dict[str, Any]) -> None:
    """Panels lie in the frame a gutter apart, and what is between them is nowhere wider.

    Grown by half a gutter they leave nothing but what lies at the outside of a corner.
    """
    shapely = reference("shapely")
    found, frame = outlines(page(layout, format=EVEN)), shapely.box(*FRAME)
    assert all(frame.buffer(1e-4).covers(one) for one in found)
    for a, b in combinations(found, 2):
        assert a.distance(b) > GAP - 1e-3
    grown = [one.buffer(GAP / 2 + 0.01, join_style="mitre") for one in found]
    assert (frame - shapely.union_all(grown)).area < 0.1


@pytest.mark.parametrize("off", [60, -25, 130])
def test_an_arc(off: int) -> None:
    """The edges of the gutter lie on two circles with the middle of the arc, within a chord."""
    left, right = page({"columns": [1, 1], "bend": f"{off} px"}, format=EVEN).panels
    radius = (720**2 / 4 + off**2) / (2 * abs(off))  # of a circle through both ends, 720 px apart
    middle = 320 + off - np.sign(off) * radius, 420
    for panel, by in ((left, -GAP / 2), (right, GAP / 2)):
        assert len(panel.arcs) == 1
        far = [hypot(x - middle[0], y - middle[1]) for x, y in panel.arcs[0]]
        exact = radius + np.sign(off) * by
        assert all(abs(r - exact) < 0.01 for r in far)
        xs = [x for x, _ in panel.arcs[0]]
        top = max(xs) if off > 0 else min(xs)
        assert top == pytest.approx(320 + off + by, abs=0.01)


def test_every_pixel_of_an_arc() -> None:
    """A bent edge comes out by the area within the circle itself, and not only its chords."""
    shapely = reference("shapely")
    plan = page(
        {"columns": [1, 1], "bend": "15 px"},
        format=SMALL | {"gutter": "0 px", "border": "0 px", "gutter_cover": True},
    )
    gap = page({"columns": [1, 1], "bend": "15 px"}, format=SMALL | {"border": "0 px"})
    radius = (130**2 / 4 + 15**2) / 30
    middle = shapely.Point(70 + 15 - radius, 85)
    ring = middle.buffer(radius + 3, quad_segs=900) - middle.buffer(radius - 3, quad_segs=900)
    expected = ring & shapely.box(20, 20, 120, 150)
    found = pixels(gap, "Gutters").astype(float)
    assert np.abs(found - covered(expected, *found.shape)).max() <= 2
    assert sum(p.area for p in outlines(plan)) == pytest.approx(100 * 130, abs=0.01)


FORMATS = {
    "gutters": {},
    "rounded": {"radius": "5 px"},
    "butted": {"gutter": "0 px"},
    "butted and rounded": {"gutter": "0 px", "radius": "4 px"},
}


@pytest.mark.parametrize("format", FORMATS.values(), ids=FORMATS)
@pytest.mark.parametrize(
    "layout",
    [
        {"columns": [1, {"tiers": [1, 1]}], "bend": "14 px"},
        {"tiers": [1, 1], "bend": [["30 %", "9 px"], ["60 %", "-9 px"]], "bleed": "all"},
        {"columns": [{"map": "A A\nA B"}, 1], "bend": "-9 px", "bleed": "all"},
    ],
    ids=["arc", "points", "joined"],
)
def test_every_pixel(layout: dict[str, Any], format: dict[str, str]) -> None:
    """Borders, gutters and cover of bent panels come out by area, shared lines too."""
    off = worst(page(layout, format=SMALL | {"gutter_cover": True} | format))
    assert {key: value for key, value in off.items() if value > 2} == {}


def test_points() -> None:
    """A gutter from point to point has corners where they are, measured along it and off it."""
    upper, lower = page({"tiers": [1, 1], "bend": [["50 %", "60 px"]]}, format=EVEN).panels
    turns = [[p for p in points_of(x.outline) if 60 < p[0] < 580] for x in (upper, lower)]
    length = hypot(260, 60)
    lift = GAP / 2 * length / 260  # from the middle of the gutter straight up to its edge
    assert [len(found) for found in turns] == [1, 1]
    assert turns[0][0] == pytest.approx((320, 480 - lift), abs=1e-4)
    assert turns[1][0] == pytest.approx((320, 480 + lift), abs=1e-4)


def test_border_along_a_bend() -> None:
    """The border is as thick along the arc as elsewhere."""
    panel = page({"columns": [1, 1], "bend": "60 px"}, format=EVEN).panels[1]
    assert panel.border
    assert panel.border.inner
    expected = polygon(panel.outline).buffer(-4, join_style="mitre")
    assert polygon(panel.border.inner).symmetric_difference(expected).area < 1


def test_nothing_left_of_a_panel() -> None:
    """A panel of which the bend leaves nothing is told, where panels lie against each other too."""
    aside = [["0 %", "30 px"], ["50 %", "31 px"], ["100 %", "30 px"]]
    layout = {"columns": [1, {"columns": [1, 1], "widths": ["10 px", 1]}], "bend": aside}
    assert "in panel 2, slanted gutters leave nothing" in refusal(layout, format={"gutter": "0 px"})


def test_measured() -> None:
    """Corners and arcs are data: where an arc begins, a point on it, where it ends."""
    (left, _) = measured(page({"columns": [1, 1], "bend": "60 px"}, format=EVEN))["panels"]
    ((begin, through, end),) = left["arcs"]
    assert {tuple(begin), tuple(end)} < {tuple(corner) for corner in left["corners"]}
    assert len(left["corners"]) == 4
    assert through == [pytest.approx(375, abs=0.01), pytest.approx(420, abs=1)]


def test_a_panel_of_an_arc_as_inset_ground() -> None:
    """An inset in the corner of a bent panel keeps its gutter from the arc too."""
    inset = {"over": 1, "corner": "top-right", "width": "90 px", "height": "70 px"}
    plan = page({"columns": [1, 1], "bend": "60 px", "insets": [inset]}, format=EVEN)
    whole, inside, _ = outlines(plan)
    assert whole.covers(inside.buffer(GAP + 3.9))
    assert not whole.covers(inside.buffer(GAP + 6))


@pytest.mark.parametrize("layout", BENT.values(), ids=BENT)
def test_left_pages_are_the_mirror_image(layout: dict[str, Any]) -> None:
    """A named layout in a book read to the left is the mirror image of the same on a right page."""
    right = outlines(page(layout))
    left = outlines(page({"panels": "own"}, direction="rtl", layouts={"own": layout}))
    written = outlines(page(mirrored(layout), direction="rtl"))
    for one, other, third in zip(right, left, written, strict=True):
        turned = mirror_image(one)
        assert turned.symmetric_difference(other).area < 0.1
        assert turned.symmetric_difference(third).area < 0.1


offsets = st.integers(-90, 90).map("{} px".format)
waves = st.lists(st.integers(-60, 60), min_size=1, max_size=4).map(
    lambda offs: [[f"{90 * (i + 1) // len(offs)} %", f"{off} px"] for i, off in enumerate(offs)]
)
bends = offsets | waves


@st.composite
def bent_pages(draw: st.DrawFn) -> dict[str, Any]:
    """Rows within rows, with gutters that bend, lean, or are straight; some are triangles."""

    def row(depth: int, key: str) -> dict[str, Any]:
        number = draw(st.integers(2, 3))
        other = "tiers" if key == "columns" else "columns"
        parts: list[Any] = []
        for _ in range(number):
            kinds = ["one", "one", "triangles", "empty", "map"] + ["row"] * depth
            kind = draw(st.sampled_from(kinds))
            forms: dict[str, Any] = {
                "one": {"panels": 1},
                "triangles": {"triangles": draw(st.sampled_from(["falling", "rising", "both"]))},
                "empty": {"empty": True},
                "map": {"map": "A B\nA A"},
            }
            parts.append(row(depth - 1, other) if kind == "row" else forms[kind])
        given: dict[str, Any] = {key: parts, "bends": [draw(bends) for _ in parts[1:]]}
        if draw(st.booleans()):
            given["slants"] = [f"{draw(st.integers(-9, 9))} deg" for _ in parts[1:]]
        return given

    page = row(1, draw(st.sampled_from(["columns", "tiers"])))
    return page | ({"bleed": "all"} if draw(st.booleans()) else {})


@given(bent_pages())
def test_any_page(layout: dict[str, Any]) -> None:
    """However all forms are mixed, panels lie a gutter apart.

    Panels and empty places never overlap, and each is in one piece.
    """
    shapely = reference("shapely")
    try:
        plan = page(layout, format=EVEN)
    except InputError:
        return
    found = [*outlines(plan), *map(polygon, plan.empty)]
    for a, b in combinations(outlines(plan), 2):
        assert a.distance(b) > GAP - 1e-2
    assert shapely.union_all(found).area == pytest.approx(sum(one.area for one in found), abs=0.5)


@pytest.mark.parametrize(
    ("layout", "said"),
    [
        (
            {"columns": [1, 1], "bend": "200 px"},
            "page 1, pages[1].bend: this bends 200 px off a line of 720 px. Write at most 180 px.",
        ),
        (
            {"columns": [1, 1, 1], "bends": ["150 px", "-150 px"]},
            "page 1, pages[1].bends: the gutters on both sides of part 2 would cross. "
            "Bend them less, or give it a larger share.",
        ),
        (
            {"columns": [1, 1], "widths": [1, 5], "bend": "-100 px"},
            "page 1, pages[1].bend: the gutters beside part 1 divide it into 2 pieces. "
            "Bend them less, or give it a larger share.",
        ),
        (
            {"columns": [1, 1], "bend": [["70 %", "9 px"], ["30 %", "9 px"]]},
            "page 1, pages[1].bend: the points of this bend do not go on along its line. "
            "Write them in order, a pixel or more apart.",
        ),
        (
            {"columns": [1, 1], "bend": [["50 %", "9 px"], ["51 %", "200 px"], ["52 %", "9 px"]]},
            "page 1, pages[1].bend: this bend turns back too sharply. "
            "Move its points apart, or nearer to the line.",
        ),
        (
            {"columns": [1, 1], "bend": [["120 %", "9 px"]]},
            "page 1, pages[1].bend: a point of this bend lies beyond the ends of its line of 720 "
            'px. Write places from "0 %" to "100 %" along it.',
        ),
        (
            {"columns": [1] * 102, "bend": "1 px"},
            "page 1, pages[1].bend: 101 gutters bend on this page. Write at most 100.",
        ),
        (
            {"columns": [1, 1], "bend": 3},
            'pages[1].bend: 3 is not a bend. Write a length such as "8 mm" or "10 %", or a list of '
            'points such as [["30 %", "4 mm"], ["70 %", "-4 mm"]].',
        ),
        (
            {"columns": [1, 1], "bends": ["3 mm", "3 mm"]},
            "page 1, pages[1].bends: 2 values where 1 should be. Write 1 value.",
        ),
        (
            {"map": "A B", "bend": "3 mm"},
            "pages[1].bend: bend and map are both here, and the gaps of a map are alike and "
            "straight. Leave bend out.",
        ),
    ],
)
def test_wrong(layout: dict[str, Any], said: str) -> None:
    """Bends that cannot be are told at their key, with what would do."""
    assert refusal(layout) == said
