"""Covers: sizes as the trade reckons them, front and back on their sides, what cannot be."""

from fractions import Fraction
from typing import Any

import pytest
from support.laid_out_pages import issue, layers, plans, refusal

from guidekit.geometry.page import PagePlan

SPLASH: dict[str, Any] = {"panels": "splash"}
PAPER = {"kind": "perfect", "caliper": "0.1 mm"}
A5 = {"dpi": 300, "trim": {"width": "148 mm", "height": "210 mm"}, "bleed": "3 mm"}
COMIC = {"dpi": 300, "trim": {"width": "6.625 in", "height": "10.25 in"}, "bleed": "0.125 in"}


def covers(pages: int = 120, **keys: Any) -> dict[str, PagePlan]:
    """The canvases of the cover by name."""
    found = plans(issue(SPLASH | {"count": pages}, **({"binding": PAPER} | keys)))
    return {plan.name: plan for plan in found if plan.name}


@pytest.mark.parametrize(
    ("form", "cover", "size", "spine"),
    [(A5, {}, (3638, 2551), 71), (COMIC, {"spine": "0.24 in"}, (4122, 3150), 72)],
)
def test_worked_sizes(
    form: dict[str, Any], cover: dict[str, Any], size: tuple[int, int], spine: int
) -> None:
    """Twice the trim, the spine and two bleeds: A5 of 120 pages at 0.1 mm is 308 × 216 mm.

    Reckoned by hand; the trade's rule is leaves times caliper (common practice, no source).
    """
    (plan,) = covers(format=form, cover=cover).values()
    assert plan.boxes.canvas.size == size
    assert plan.boxes.spine
    assert abs(plan.boxes.spine.width - spine) <= 1  # its edges are rounded one by one


def test_the_cover_s_own_stock() -> None:
    """The stock of the cover lies on both sides of the block."""
    thin, thick = (
        covers(cover=cover, format={"dpi": 2540})["cover"].boxes
        for cover in ({}, {"caliper": "0.3 mm"})
    )
    assert thin.spine
    assert thick.spine
    assert abs(thick.spine.width - thin.spine.width - 60) <= 1


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
def test_front_and_back(direction: str) -> None:
    """The back, with its barcode toward the spine, is left of it; the other way round in rtl."""
    keys: dict[str, Any] = {"cover": {"barcode": True, "flaps": "100 px"}}
    boxes = covers(direction=direction, **keys)["cover"].boxes
    left, right = boxes.pages
    back = left if direction == "ltr" else right
    assert boxes.barcode
    assert boxes.spine
    assert back.safe_area.holds(boxes.barcode)
    edge = boxes.barcode.right if direction == "ltr" else boxes.barcode.left
    assert edge == (back.safe_area.right if direction == "ltr" else back.safe_area.left)
    assert boxes.barcode.width == round(Fraction(113 * 33, 100) * 100 / Fraction("25.4"))
    assert boxes.folds == (120, boxes.spine.left, boxes.spine.right, boxes.canvas.width - 120)
    assert left.trim.width == right.trim.width == 600


@pytest.mark.parametrize(("direction", "front"), [("ltr", "right"), ("rtl", "left")])
def test_sides_of_their_own(direction: str, front: str) -> None:
    """Each side as a canvas of its own: the front on the side of page 1, the back opposite."""
    found = covers(direction=direction, cover={"wrap": False, "inside": True})
    sides = {name: plan.side for name, plan in found.items()}
    back = {"left": "right", "right": "left"}[front]
    assert sides == {
        "front cover": front,
        "inside front cover": back,
        "inside back cover": front,
        "back cover": back,
    }
    assert {plan.boxes.canvas.size for plan in found.values()} == {(640, 840)}
    assert [plan.file_name for plan in found.values()] == [
        "tests-cover-front",
        "tests-cover-inside-front",
        "tests-cover-inside-back",
        "tests-cover-back",
    ]


def test_stapled_covers_have_a_fold() -> None:
    """Where sheets are folded the spine is a line, whatever the paper."""
    boxes = covers(8, binding="saddle-stitch", cover={})["cover"].boxes
    assert boxes.folds == (boxes.canvas.width // 2,)
    assert boxes.canvas.width == 2 * 600 + 2 * 20


def test_guides_of_a_cover() -> None:
    """Spine and barcode are guides of the cover alone; pages have neither."""
    with_barcode = covers(cover={"barcode": {"width": "100 px", "height": "50 px"}})
    assert {"Spine", "Barcode", "Trim", "Paper"} <= set(layers(with_barcode["cover"]))
    page = plans(issue(SPLASH, binding=PAPER, cover={}))[0]
    assert not {"Spine", "Barcode"} & set(layers(page))


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"cover": {}}, "how thick the spine is cannot be known without the paper"),
        ({"cover": {}, "binding": "perfect"}, 'or spine = "6 mm" here'),
        ({"cover": {}, "binding": "loose"}, "loose pages have no spine"),
        ({"cover": {"wrap": False, "flaps": "80 mm"}}, "front and back have no flaps"),
        ({"cover": {"wrap": False, "barcode": {"width": "9 in"}}}, "9 in is no width of a barcode"),
        ({"cover": {"caliper": "3 px"}}, '"3 px" is no paper\'s thickness'),
        ({"cover": {"caliper": "1 in"}}, '"1 in" is no paper\'s thickness'),
        ({"cover": {"wrapped": True}}, "wrap"),
    ],
)
def test_covers_that_cannot_be(keys: dict[str, Any], said: str) -> None:
    """A spine without paper, a cover that does not go with its binding, sizes that do not fit."""
    assert said in refusal(SPLASH, **keys)
