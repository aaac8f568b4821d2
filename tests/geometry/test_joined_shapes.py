"""Places of a map that join to other shapes than rectangles: their outline, borders, neighbours."""

from itertools import combinations, pairwise
from typing import Any

import pytest
from hypothesis import given
from support.areas import SMALL, worst
from support.laid_out_pages import mirror_image, outlines, page, polygon, refusal
from support.random_pages import joined_maps
from support.reference import reference

from guidekit.geometry.measure import measured
from guidekit.plane.outline import points_of

GAP = {"across": 10, "down": 16}
L_SHAPE = {"map": "A A B\nA C B\nA C C"}


def expected(letters: str) -> dict[str, Any]:
    """Each letter as all boxes that hold whole places of it, with what lies between them."""
    shapely = reference("shapely")
    rows = [line.split() for line in letters.splitlines()]
    frame = page({"map": letters}).boxes.safe_area
    xs = _spans(frame.left, frame.width, len(rows[0]), GAP["across"])
    ys = _spans(frame.top, frame.height, len(rows), GAP["down"])
    found: dict[str, list[Any]] = {}
    for y, row in enumerate(rows):
        for x, letter in enumerate(row):
            for wide, high in ((1, 1), (2, 1), (1, 2), (2, 2)):
                some = [r[x : x + wide] for r in rows[y : y + high]]
                if [*map(set, some)] == [{letter}] * high and len(some[0]) == wide:
                    edges = xs[x][0], ys[y][0], xs[x + wide - 1][1], ys[y + high - 1][1]
                    found.setdefault(letter, []).append(shapely.box(*edges))
    return {letter: shapely.union_all(boxes) for letter, boxes in found.items()}


def _spans(start: int, length: int, parts: int, gap: int) -> list[tuple[int, int]]:
    """Where equal parts begin and end, their edges rounded half up."""
    rest = length - gap * (parts - 1)
    edges = [(2 * rest * k + parts) // (2 * parts) for k in range(parts + 1)]
    spans = enumerate(pairwise(edges))
    return [(start + a + gap * k, start + b + gap * k) for k, (a, b) in spans]


@given(joined_maps())
def test_any_shape(letters: str) -> None:
    """A panel is all its places and what lies between them, to the pixel; an empty place too.

    Panels lie in whole pixels, the gutter of their map apart from each other.
    """
    plan = page({"map": letters})
    shapes = expected(letters)
    empty = shapes.pop(".", reference("shapely").Polygon())
    found = outlines(plan)
    for shape in shapes.values():
        assert min(shape.symmetric_difference(other).area for other in found) == 0
    assert len(found) == len(shapes)
    holes = [polygon(place) for place in plan.empty]
    assert (reference("shapely").union_all(holes) - empty).area == 0
    assert all(x == int(x) and y == int(y) for p in plan.panels for x, y in points_of(p.outline))
    for a, b in combinations(found, 2):
        assert a.distance(b) >= 10


@pytest.mark.parametrize(
    "format",
    [{"radius": "4 px"}, {"gutter": "0 px"}, {"gutter": "0 px", "radius": "4 px"}],
    ids=str,
)
@pytest.mark.parametrize(
    "layout",
    [
        L_SHAPE,
        {"map": "A A A\nA . B\nA B B"},
        {"columns": [{"map": "A B\nA A\nC A"}, 1], "slant": "8 deg"},
        L_SHAPE | {"bleed": "all"},
    ],
    ids=["L", "empty", "slanted", "bleed"],
)
def test_every_pixel(layout: dict[str, Any], format: dict[str, str]) -> None:
    """Borders go along the notch; they, gutters and cover come out by area."""
    off = worst(page(layout, format=SMALL | {"gutter_cover": True} | format))
    assert {key: value for key, value in off.items() if value > 2} == {}


def test_the_border_goes_along_the_notch() -> None:
    """A border is as thick in the notch as elsewhere, round corners too."""
    for radius in (0, 12):
        panel = page(L_SHAPE, format={"radius": f"{radius} px"}).panels[0]
        assert panel.border
        assert panel.border.inner
        outer, inner = polygon(panel.border.outer), polygon(panel.border.inner)
        expected_inner = outer.buffer(-4, join_style="mitre")
        assert inner.symmetric_difference(expected_inner).area < 1


def test_a_shared_border() -> None:
    """Where panels lie against each other along a notch, one line serves both."""
    plan = page(L_SHAPE, format={"gutter": "0 px"})
    shapely = reference("shapely")
    rings = [
        polygon(p.border.outer) - polygon(p.border.inner)
        for p in plan.panels
        if p.border and p.border.inner
    ]
    lines = shapely.union_all(rings)
    inside = reference("shapely").box(*plan.boxes.safe_area.as_list())
    assert (inside - lines).area == pytest.approx(inside.area - (inside & lines).area)
    corner = shapely.Point(233, 300)  # on the edge between A and C
    assert corner.distance(lines) == 0
    assert corner.buffer(20).intersection(lines).area == pytest.approx(160, abs=8)  # 40 px of 4


def test_running_out() -> None:
    """A panel runs out with all of its places at the edge of the page, and with no others."""
    letters = {"map": "A A\nA B\nA A"}
    plan = page(letters | {"panel": {"A": {"bleed": "right"}}})
    assert [*map(list, points_of(plan.panels[0].outline))] == [
        [60, 60], [640, 60], [640, 289], [315, 289], [315, 551], [640, 551], [640, 780], [60, 780],
    ]  # fmt: skip
    assert plan.panels[0].bleed == {"right"}


def test_measured() -> None:
    """The corners of a joined panel are data, those of its notch too."""
    (first, *_) = measured(page(L_SHAPE))["panels"]
    assert first["box"] == [60, 60, 403, 780]
    assert first["corners"] == [
        [60, 60], [403, 60], [403, 289], [227, 289], [227, 780], [60, 780],
    ]  # fmt: skip


def test_insets_stay_inside() -> None:
    """The corner of an inset is one that the panel has, and never in its notch."""
    inset = {"over": "A", "width": "60 px", "height": "60 px", "corner": "bottom-right"}
    plan = page(L_SHAPE | {"insets": [inset]})
    whole, inside = outlines(plan)[0], outlines(plan)[1]
    assert whole.covers(inside.buffer(10, join_style="mitre"))
    assert not any(panel.cut_out for panel in plan.panels[1:])


def test_left_pages_are_the_mirror_image() -> None:
    """A named layout in a book read to the left is mirrored, notches and all."""
    own = {"own": L_SHAPE}
    left = outlines(page({"panels": "own"}, direction="rtl", layouts=own))
    for polygon_, other in zip(outlines(page(L_SHAPE)), left, strict=True):
        turned = mirror_image(polygon_)
        assert turned.symmetric_difference(other).area == 0


@pytest.mark.parametrize(
    ("letters", "said"),
    [
        (
            "A B A",
            'the places of "A" lie in 2 groups. Join them, or take another letter for one of the '
            "groups: places that join along their edges are one panel.",
        ),
        (
            "A B\nC A",
            'the places of "A" lie in 2 groups that meet only at corners. Join them, or take '
            "another letter for one of the groups: places that join along their edges are one "
            "panel.",
        ),
        (
            "A A A\nA B A\nA A A",
            'the places of "A" go all round others. Draw one panel there, and lay an inset over '
            "it.",
        ),
    ],
)
def test_places_that_do_not_join(letters: str, said: str) -> None:
    """Places of a letter that are not one shape are told with what would do."""
    assert refusal({"map": letters}) == f"pages[1].map: {said}"


def test_a_shape_that_a_slant_divides() -> None:
    """A slanted gutter that would cut a joined panel in two is told at the panel."""
    cell = {"map": "A A\nB A\nA A", "heights": [4, 1, 1]}
    text = refusal({"columns": [cell, 1], "slant": "480 px"})
    assert text == (
        "page 1, pages[1]: in panel 1, gutters that lean or bend divide this panel into 2 pieces. "
        "Lean or bend them less, or give the panel a larger share."
    )


def test_a_border_that_closes_a_narrow_place() -> None:
    """Borders that meet where a panel is narrow are told, and not drawn over it."""
    layout = {"map": "A B A\nA A A", "heights": [9, 1], "panel": {"A": {"border": "40 px"}}}
    assert "40 px of border close a narrow place of this panel" in refusal(layout)
