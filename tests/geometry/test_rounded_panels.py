"""Rounded corners: given by preset, page or panel, measured by shapely (GEOS)."""

from math import pi
from typing import Any

import pytest
from support.laid_out_pages import outlines, page, pixels, refusal
from support.reference import reference

SPLASH = {"panels": "splash"}
NEAR = 1 / 50  # an arc is drawn by chords that leave it by no more, in pixels


def radius_of(polygon: Any) -> float:
    """The radius that a box with four equal corners must have for what its corners lack."""
    left, top, right, bottom = polygon.bounds
    missing = (right - left) * (bottom - top) - polygon.area
    return float((missing / (4 - pi)) ** 0.5)


def panel(radius: str) -> dict[str, Any]:
    """A page whose first panel has a radius of its own."""
    return {"panel": {"1": {"radius": radius}}}


@pytest.mark.parametrize(
    ("preset", "keys", "radius"),
    [
        ("12 px", {}, 12),
        ("12 px", {"radius": "20 px"}, 20),
        ("12 px", {"radius": "20 px"} | panel("31 px"), 31),
        ("0 px", panel("0.25 in"), 25),
        ("12 px", {"radius": "0 px"}, 0),
        ("12 px", {"radius": "20 px"} | panel("0 px"), 0),
        ("0 px", panel("260 px"), 260),
    ],
)
def test_the_nearest_word_counts(preset: str, keys: dict[str, Any], radius: int) -> None:
    """A panel's own radius counts before the page's, the page's before the preset's."""
    (found,) = outlines(page(SPLASH | keys, format={"radius": preset}))
    assert found.bounds == (60, 60, 580, 780)
    assert radius_of(found) == pytest.approx(radius, abs=0.1)


def test_only_the_panel_named() -> None:
    """A panel's radius is its own; the others stay boxes."""
    first, second = outlines(page({"tiers": [2]} | panel("30 px")))
    assert radius_of(first) == pytest.approx(30, abs=0.1)
    assert radius_of(second) == 0


@pytest.mark.parametrize("radius", [3, 4, 9, 40])
def test_arcs_are_circles(radius: int) -> None:
    """Every point of a rounded corner is a radius away from the middle of its circle."""
    shapely = reference("shapely")
    (found,) = outlines(page(SPLASH | panel(f"{radius} px")))
    core = shapely.box(60 + radius, 60 + radius, 580 - radius, 780 - radius)
    away = [core.distance(shapely.Point(point)) for point in found.exterior.coords]
    assert away == pytest.approx([radius] * len(away), abs=1e-9)
    sides = shapely.segmentize(found, 0.5).exterior.coords
    assert min(core.distance(shapely.Point(point)) for point in sides) > radius - NEAR


@pytest.mark.parametrize("radius", [10, 40])
@pytest.mark.parametrize("layout", [{"columns": [1, 1]}, {"columns": [1, 1], "slant": "9 deg"}])
def test_borders_keep_their_weight_round_corners(layout: dict[str, Any], radius: int) -> None:
    """The inside of a rounded border is everywhere a border's weight from its outside."""
    shapely = reference("shapely")
    plan = page(layout, format={"radius": f"{radius} px"})
    for outer, made in zip(outlines(plan), plan.panels, strict=True):
        assert made.border
        inner = shapely.segmentize(shapely.Polygon(made.border.inner), 0.5).exterior.coords
        away = [outer.exterior.distance(shapely.Point(point)) for point in inner]
        assert max(abs(x - 4) for x in away) < 2 * NEAR


def test_slanted_panels_have_round_corners_of_the_same_radius() -> None:
    """An obtuse corner has the same radius as an acute one: a disc of it rolls all round inside."""
    plan = page({"columns": [1, 1], "slant": "15 deg"}, format={"radius": "25 px"})
    for found in outlines(plan):
        rolled = found.buffer(-25).buffer(25, quad_segs=200)
        assert found.symmetric_difference(rolled).area < found.length * NEAR


def test_corners_at_the_bleed_stay_sharp() -> None:
    """A panel that bleeds at its top has two round corners, at its foot."""
    plan = page({"panels": "splash", "radius": "50 px", "panel": {"1": {"bleed": "top"}}})
    (found,) = outlines(plan)
    assert found.bounds == (60, 0, 580, 780)
    assert 520 * 780 - found.area == pytest.approx(50**2 * (4 - pi) / 2, rel=0.01)
    assert reference("shapely").Point(60, 0).distance(found) == 0


@pytest.mark.parametrize("radius", ["261 px", "3 in"])
def test_too_large_a_radius_is_refused(radius: str) -> None:
    """A radius of more than half of a panel's shorter side has no room, and says so."""
    pixels_ = {"261 px": 261, "3 in": 300}[radius]
    assert refusal(SPLASH | panel(radius)) == (
        f"page 1, pages[1].panel.1.radius: corners of {pixels_} px are too large for 520 × 720 px. "
        "Take a smaller radius, at most half of the shortest side."
    )


def test_one_panel_too_small_for_the_page_s_radius() -> None:
    """A radius of the page is refused for the panel that has no room for it, and names it."""
    text = refusal({"tiers": [1, 9], "radius": "30 px"})
    assert text.startswith("page 1, pages[1]: in panel 2, corners of 30 px are too large for ")


def test_the_gutter_shows_in_the_corners() -> None:
    """What a rounded corner leaves free is tinted as gutter and has no ink."""
    plan = page({"tiers": [2], "radius": "30 px"})
    tint, ink = pixels(plan, "Gutters"), pixels(plan, "Panel borders")
    for y, x in ((61, 61), (61, 313), (778, 61), (778, 578)):
        assert (tint[y, x], ink[y, x]) == (255, 0)
    assert (tint[400, 61], ink[400, 61]) == (0, 255)
