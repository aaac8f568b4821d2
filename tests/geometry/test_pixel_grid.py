"""The pixel grid of a page: the canvas is rounded once, every edge from its exact position."""

from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.catalogue import preset_called
from support.planes import painted
from support.strategies import presets
from support.worked_values import CHECKS

from guidekit.geometry.page_boxes import page_boxes_for
from guidekit.plane.box import Box
from guidekit.preset import Preset


def preset(**values: object) -> Preset:
    """A page format with the values of interest; the rest does not matter here."""
    rest = {"title": "Mine", "dpi": 300, "gutter": "3 mm", "border": "1 mm", "drawing": ["Inks"]}
    return Preset(**(rest | values))


def pixels(mm: str, dpi: int) -> int:
    """Millimetres as whole pixels by Python's decimals; no whole millimetre gives a tie."""
    return int((Decimal(mm) * dpi / Decimal("25.4")).quantize(Decimal(1), ROUND_HALF_UP))


@pytest.mark.parametrize("row", CHECKS["canvas"], ids=lambda row: row["id"])
@pytest.mark.parametrize("bleed", ["0 mm", "3 mm", "1/8 in", "1/3 in"])
def test_canvas(row: dict[str, Any], bleed: str) -> None:
    """Trim and bleed together make the canvas, and only their sum is rounded, half up.

    Sizes by the standard that the row names; the sums were made outside guidekit.
    """
    number, unit = bleed.split()
    both = 2 * Fraction(number) * {"mm": Fraction(10, 254), "in": Fraction(1)}[unit] * row["dpi"]
    width, height = (f"{Fraction(exact) - both} px" for exact in row["exact"])
    page = preset(dpi=row["dpi"], trim={"width": width, "height": height}, bleed=bleed)
    assert page_boxes_for(page, "right", "ltr").canvas == Box(0, 0, *row["half_up"])


@pytest.mark.parametrize("row", CHECKS["canvas"], ids=lambda row: row["id"])
def test_canvas_by_size(row: dict[str, Any]) -> None:
    """A page of the row's size, written in its own unit, has the row's canvas."""
    size = {"width": f"{row['w']} {row['unit']}", "height": f"{row['h']} {row['unit']}"}
    canvas = page_boxes_for(preset(dpi=row["dpi"], trim=size), "single", "rtl").canvas
    assert [canvas.width, canvas.height] == row["half_up"]


@pytest.mark.parametrize("row", CHECKS["edges"], ids=lambda row: f"{row['what']}@{row['dpi']}")
def test_edges_by_position(row: dict[str, Any]) -> None:
    """Trim edges are rounded from their exact place on the canvas (computed by hand)."""
    trim = dict(zip(("width", "height"), (f"{x} {row['unit']}" for x in row["trim"]), strict=True))
    page = preset(dpi=row["dpi"], trim=trim, bleed=f"{row['bleed']} {row['unit']}")
    sheet = page_boxes_for(page, "right", "ltr")
    assert [0, sheet.trim.left, sheet.trim.right, sheet.canvas.right] == row["x"]
    assert [0, sheet.trim.top, sheet.trim.bottom, sheet.canvas.bottom] == row["y"]
    assert sheet.bleed == sheet.canvas


def test_facing_pages_mirror_each_other() -> None:
    """Pixel by pixel, the left page read backward is the right page, whatever the margins."""
    page = preset(
        dpi=50,
        trim={"width": "66.3 mm", "height": "51 mm"},
        bleed={"inside": "1 mm", "outside": "3.3 mm", "top": "2 mm", "bottom": "3 mm"},
        safe_area={"inside": "11 mm", "outside": "5.2 mm", "top": "6 mm", "bottom": "4 mm"},
    )
    left, right = page_boxes_for(page, "left", "ltr"), page_boxes_for(page, "right", "ltr")
    assert left.canvas == right.canvas
    for name in ("trim", "safe_area"):
        mine = painted([getattr(right, name)], right.canvas)
        facing = painted([getattr(left, name)], left.canvas)
        assert (facing[:, ::-1] == mine).all()
        assert (facing != mine).any()


@pytest.mark.parametrize(("direction", "like"), [("ltr", "right"), ("rtl", "left")])
def test_single_page_begins_at_its_inside(direction: str, like: str) -> None:
    """A page that faces no other has its inside where reading begins."""
    page = preset(trim={"width": "70 mm", "height": "70 mm"}, safe_area={"inside": "9 mm"})
    assert page_boxes_for(page, "single", direction) == page_boxes_for(page, like, "ltr")


@given(presets() | presets(sheet=True), st.sampled_from(["left", "right", "spread"]))
def test_boxes_lie_in_each_other(page: Preset, side: str) -> None:
    """The canvas holds the bleed, the bleed the trim, the trim the safe area, on any page.

    The same nesting as of a PDF's page boxes (ISO 32000-1, 14.11.2).
    """
    sheet = page_boxes_for(page, side, "ltr")
    assert sheet.canvas.holds(sheet.bleed)
    assert sheet.bleed.holds(sheet.trim)
    assert sheet.trim.holds(sheet.safe_area)
    assert not sheet.safe_area.is_empty


@given(presets() | presets(sheet=True), st.sampled_from(["left", "right"]))
def test_mirrored_twice(page: Preset, side: str) -> None:
    """Mirrored once a page is the facing page; mirrored twice it is itself."""
    sheet = page_boxes_for(page, side, "ltr")
    other = page_boxes_for(page, "left" if side == "right" else "right", "ltr")
    assert sheet.mirrored() == other
    assert sheet.mirrored().mirrored() == sheet


@given(presets(), st.sampled_from(["top", "bottom"]))
def test_spread_is_as_tall_as_a_page(page: Preset, edge: str) -> None:
    """A spread has the same edges down the page as the two pages that it replaces."""
    spread, single = page_boxes_for(page, "spread", "ltr"), page_boxes_for(page, "right", "ltr")
    for box in ("canvas", "bleed", "trim", "safe_area"):
        assert getattr(getattr(spread, box), edge) == getattr(getattr(single, box), edge)


@given(presets() | presets(sheet=True))
def test_spread_has_no_bleed_at_the_fold(page: Preset) -> None:
    """Both trims meet at the fold, in the middle of the canvas, and end as the whole does."""
    spread = page_boxes_for(page, "spread", "ltr")
    left, right = (page.trim for page in spread.pages)
    assert left.right == right.left == spread.fold
    assert 2 * (spread.fold or 0) == spread.canvas.width
    assert (left.left, right.right) == (spread.trim.left, spread.trim.right)


@given(presets())
def test_canvas_of_a_spread(page: Preset) -> None:
    """A spread is at most two pixels from two exact trims and outer bleeds."""
    assert page.trim
    width = 2 * (page.trim.width.px(page.dpi) + page.bleed.outside.px(page.dpi))
    assert abs(page_boxes_for(page, "spread", "ltr").canvas.width - width) <= 2


@given(presets() | presets(sheet=True), st.sampled_from(["left", "right"]))
def test_halves_of_a_spread_are_the_single_pages(page: Preset, side: str) -> None:
    """Pixel for pixel: a spread cut at its fold is two single pages cut at their inside trim."""
    spread, single = page_boxes_for(page, "spread", "ltr"), page_boxes_for(page, side, "ltr")
    left, right = spread.pages
    half = left if side == "left" else right
    moved = half.trim.left - single.trim.left
    assert half.trim == single.trim.shifted(moved, 0)
    assert half.safe_area == single.safe_area.shifted(moved, 0)
    for mine, whole in (
        (single.canvas, spread.canvas),
        (single.bleed, spread.bleed),
        (single.trim, spread.trim),
        (single.safe_area, spread.safe_area),
    ):
        assert getattr(mine, side) + moved == getattr(whole, side)
        assert (mine.top, mine.bottom) == (whole.top, whole.bottom)


@given(presets() | presets(sheet=True))
def test_halves_of_a_spread_mirror_each_other(page: Preset) -> None:
    """The right page of a spread is the left page in a mirror."""
    spread = page_boxes_for(page, "spread", "ltr")
    left, right = spread.pages
    assert spread.mirrored().pages == (right, left)
    assert spread.mirrored().safe_area == spread.safe_area


@given(presets() | presets(sheet=True))
def test_safe_areas_of_a_spread(page: Preset) -> None:
    """Each page of a spread keeps its safe area on its own side of the fold."""
    for one in page_boxes_for(page, "spread", "ltr").pages:
        assert one.trim.holds(one.safe_area)


def test_us_comic_spread() -> None:
    """Two trims of 6.625 in and a bleed of 1/8 in at each end: 4050 x 3150 px at 300 dpi."""
    row = next(row for row in CHECKS["canvas"] if row["id"] == "C46")
    trim = {"width": "6.625 in", "height": "10.25 in"}
    spread = page_boxes_for(preset(trim=trim, bleed="1/8 in", safe_area="1/4 in"), "spread", "ltr")
    assert [spread.canvas.width, spread.canvas.height] == row["half_up"]
    assert spread.fold == 2025
    assert spread.trim == Box(38, 38, 4012, 3113)  # 37.5, and the left edge in a mirror
    # 37.5 + 75 = 112.5, 2025 - 75 = 1950
    assert [one.safe_area.as_list()[::2] for one in spread.pages] == [[113, 1950], [2100, 3937]]


@pytest.mark.parametrize(
    ("name", "trim", "safe"),
    [
        # margins of the finished frame and of the inner frame on the sheet, in mm: common practice
        ("jis-b4-manuscript", ("18.5", "238.5", "27", "337"), ("38.5", "218.5", "47", "317")),
        ("jis-a4-fanbook", ("14", "196", "20", "277"), ("30", "180", "38.5", "258.5")),
    ],
)
def test_manuscript_sheet(name: str, trim: tuple[str, ...], safe: tuple[str, ...]) -> None:
    """On manuscript paper the trim lies in the middle of the sheet, and the canvas is the sheet."""
    page = preset_called(name)
    sheet = page_boxes_for(page, "right", "rtl")
    assert page.sheet
    assert sheet.canvas == Box(
        0, 0, *(pixels(str(float(x.mm(1))), page.dpi) for _, x in page.sheet)
    )
    for box, (left, right, top, bottom) in ((sheet.trim, trim), (sheet.safe_area, safe)):
        assert box == Box(*(pixels(x, page.dpi) for x in (left, top, right, bottom)))
    assert abs(sheet.trim.left - (sheet.canvas.right - sheet.trim.right)) <= 1
    assert abs(sheet.trim.top - (sheet.canvas.bottom - sheet.trim.bottom)) <= 1
