"""Slanted gutters keep their width, measured by shapely (GEOS), an independent geometry library."""

from itertools import combinations, pairwise
from math import hypot, radians, tan
from typing import Any

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st
from support.laid_out_pages import FRAME, boxes, mirror_image, outlines, page, refusal
from support.random_pages import mirrored
from support.reference import reference

from guidekit.errors import InputError
from guidekit.plane.box import Box
from guidekit.plane.outline import points_of

GUTTERS = {"columns": 10, "tiers": 16}  # of the test format, across and down
SIZE = {"columns": (720, 520), "tiers": (520, 720)}  # a gutter's run in the frame; the other way
SLANTS = ["20 deg", "-12.5 deg", "40 px", "-0.3 in"]
both = pytest.mark.parametrize("key", ["columns", "tiers"])
slanted = pytest.mark.parametrize("slant", SLANTS)


def lean(slant: str, along: int) -> float:
    """How far apart the ends of a line lie that runs `along` pixels, at 100 dpi."""
    number, unit = slant.split()
    factor = {"px": 1, "in": 100}.get(unit)
    return float(number) * factor if factor else tan(radians(float(number))) * along


@both
@slanted
@pytest.mark.parametrize("number", [2, 3])
def test_gutters_keep_their_width(key: str, slant: str, number: int) -> None:
    """Neighbours are one gutter apart, and panels and gutters together are the frame."""
    found = outlines(page({key: [1] * number, "slant": slant}))
    along, extent = SIZE[key]
    for a, b in pairwise(found):
        assert a.distance(b) == pytest.approx(GUTTERS[key], abs=1e-6)
    gutter = GUTTERS[key] * hypot(along, lean(slant, along))
    whole = sum(polygon.area for polygon in found) + gutter * (number - 1)
    assert whole == pytest.approx(along * extent, abs=1e-6)
    frame = reference("shapely").box(*FRAME)
    assert all(frame.covers(polygon) for polygon in found)


@slanted
def test_upright_gutters_lean_to_the_right_at_their_top(slant: str) -> None:
    """The ends of a gutter between columns are as far apart as the slant says, round its middle."""
    panel = page({"columns": [1, 1], "slant": slant}).panels[0]
    (top,) = (x for x, y in points_of(panel.outline) if y == FRAME[1] and x > FRAME[0])
    (bottom,) = (x for x, y in points_of(panel.outline) if y == FRAME[3] and x > FRAME[0])
    assert top - bottom == pytest.approx(lean(slant, 720), abs=1e-9)
    middle = (top + bottom) / 2 + 10 / 2 * hypot(1, lean(slant, 720) / 720)
    assert middle == pytest.approx((FRAME[0] + FRAME[2]) / 2, abs=1e-9)


@slanted
def test_level_gutters_fall_to_the_right(slant: str) -> None:
    """The ends of a gutter between tiers are as far apart as the slant says, round its middle."""
    panel = page({"tiers": [1, 1], "slant": slant}).panels[0]
    (left,) = (y for x, y in points_of(panel.outline) if x == FRAME[0] and y > FRAME[1])
    (right,) = (y for x, y in points_of(panel.outline) if x == FRAME[2] and y > FRAME[1])
    assert right - left == pytest.approx(lean(slant, 520), abs=1e-9)
    middle = (left + right) / 2 + 16 / 2 * hypot(1, lean(slant, 520) / 520)
    assert middle == pytest.approx((FRAME[1] + FRAME[3]) / 2, abs=1e-9)


@pytest.mark.parametrize("none", ["0 deg", "0 px"])
@both
def test_straight_edges_stay_exact(key: str, none: str) -> None:
    """Beside a slanted gutter all straight edges are those that they are without it."""
    layout = {key: [1, 1, 2], "heights" if key == "tiers" else "widths": [3, 1, 2]}
    straight = page(layout)
    leaning = page(layout | {"slants": ["6 deg", none]})
    assert boxes(leaning)[2:] == boxes(straight)[2:]
    assert all(isinstance(panel.outline, Box) for panel in leaning.panels[2:])
    for panel, box in zip(leaning.panels[:2], boxes(straight), strict=False):
        whole = [[x for x in corner if x in box] for corner in points_of(panel.outline)]
        assert min(map(len, whole)) >= 1
        assert sum(len(corner) == 2 for corner in whole) == 2


angles = st.integers(-14, 14).map(lambda x: f"{x} deg")


@st.composite
def leaning(draw: st.DrawFn, key: str, depth: int) -> dict[str, Any]:
    """A list called `key` of panels and further lists, its gutters slanted this way and that."""
    inner = "tiers" if key == "columns" else "columns"
    entry = st.just({"panels": 1})
    entry |= leaning(inner, depth - 1) if depth else entry
    parts = draw(st.lists(entry, min_size=1, max_size=3))
    return {key: parts, "slants": [draw(angles) for _ in parts[1:]]}


@given(leaning("columns", 2) | leaning("tiers", 2))
def test_nested_slants(layout: dict[str, Any]) -> None:
    """However slanted parts are nested, panels lie in the frame, at least a gutter apart."""
    try:
        plan = page(layout, format={"gutter": "10 px"})
    except InputError:
        reject()
    found = outlines(plan)
    frame = reference("shapely").box(*FRAME).buffer(1e-6)
    assert all(frame.covers(polygon) for polygon in found)
    for a, b in combinations(found, 2):
        assert a.distance(b) > 10 - 1e-6


@pytest.mark.parametrize(("slant", "inner"), [("20 deg", 11), ("30 deg", 8), ("-30 deg", 11)])
def test_slants_that_meet_where_a_part_leans_out(slant: str, inner: int) -> None:
    """Gutters that would meet where their part leans out of its straight box are refused or kept.

    The three tiers of the first column run on past the middle of the slanted gutter beside them.
    """
    heights = [2, 1, 10] if slant[0] != "-" else [10, 1, 2]
    tiers = {"tiers": [1, 1, 1], "heights": heights, "slants": [f"{inner} deg", f"-{inner} deg"]}
    try:
        plan = page({"columns": [tiers, 1], "slant": slant}, format={"gutter": "10 px"})
    except InputError:
        return
    for a, b in combinations(outlines(plan), 2):
        assert a.distance(b) > 10 - 1e-6


NESTED = {
    "tiers in a leaning column": {"columns": [{"tiers": [1, 2]}, 1], "slant": "8 deg"},
    "columns in a falling tier": {
        "tiers": [2, {"panels": 3, "widths": [1, 2, 1]}],
        "slant": "-9 deg",
    },
    "slants in slants": {
        "tiers": [{"panels": 2, "slant": "-7 deg"}, {"panels": 3, "slants": ["5 deg", "-5 deg"]}],
        "slants": ["30 px"],
    },
    "map in a slanted part": {"columns": [{"map": "A B\nA C"}, 1], "slant": "-6 deg"},
}  # fmt: skip


@pytest.mark.parametrize("layout", NESTED.values(), ids=NESTED)
def test_nothing_is_lost_in_slanted_parts(layout: dict[str, Any]) -> None:
    """Panels grown by half a gutter on all sides, corners kept, cover the frame exactly once."""
    shapely = reference("shapely")
    frame = shapely.box(*FRAME)
    found = outlines(page(layout, format={"gutter": "10 px"}))
    grown = [frame & polygon.buffer(5, join_style="mitre", mitre_limit=50) for polygon in found]
    assert sum(polygon.area for polygon in grown) == pytest.approx(frame.area, abs=1e-6)
    assert shapely.union_all(grown).area == pytest.approx(frame.area, abs=1e-6)


@pytest.mark.parametrize("layout", NESTED.values(), ids=NESTED)
def test_slants_on_left_pages_are_the_mirror_image(layout: dict[str, Any]) -> None:
    """A named layout in a book read to the left is the mirror image, slants and numbers too."""
    own = {"panels": "own"}
    right, left = page(layout), page(own, direction="rtl", layouts={"own": layout})
    written = page(mirrored(layout), direction="rtl")
    for panel, other, third in zip(right.panels, left.panels, written.panels, strict=True):
        turned = panel.box.mirrored(640)
        assert other.box == third.box == turned
    for polygon, other in zip(outlines(right), outlines(left), strict=True):
        turned = mirror_image(polygon)
        assert turned.symmetric_difference(other).area == pytest.approx(0, abs=1e-6)


# columns of 520 px less gutters of 10, and how far their edges lean: computed by hand
CROSSING = [
    (
        {"columns": [1, 1, 1], "slants": ["20 deg", "-20 deg"]},
        ".slants: part 2 is 166 px wide",
        263,  # 720 tan 20 = 262.1, and each gutter is 10 / cos 20 - 10 = 0.6 wider that way
    ),
    (
        {"columns": [1, 1], "slant": "40 deg"},
        ".slant: part 1 is 255 px wide",
        304,  # half of 720 tan 40 = 604.2, and half of 10 / cos 40 - 10 = 3.1
    ),
    (
        {"tiers": [1, {"columns": [1, 1, 1], "slants": ["-400 px", "0 px"]}]},
        ".tiers[2].slants: part 1 is 167 px wide",
        203,  # half of 400, and half of 10 hypot(1, 400 / 352) - 10 = 5.1
    ),
    (
        {"tiers": [1, 1, 1], "heights": [3, 1, 3], "slants": ["240 px", "0 px"]},
        ".slants: part 2 is 98 px tall",
        121,  # half of 240, and half of 16 hypot(1, 240 / 520) - 16 = 1.6
    ),
]


@pytest.mark.parametrize(("layout", "said", "taken"), CROSSING)
def test_slants_that_cross_are_refused(layout: dict[str, Any], said: str, taken: int) -> None:
    """Gutters that would meet each other or the end of the frame are told with what they take."""
    assert refusal(layout) == (
        f"page 1, pages[1]{said}, and the gutters beside it lean so far that they take {taken} "
        "px of that at one end. Lean the gutters less, or give that part a larger share."
    )
