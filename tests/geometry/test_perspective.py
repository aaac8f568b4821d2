"""Horizon, vanishing points and the rays through them, for pages and for single panels.

A page's perspective lies in its safe area (60, 60, 580, 780), a panel's in the panel.
"""

from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.laid_out_pages import layers, outlines, page, pixels, refusal
from support.perspectives import SPLASH, angle, distance, view
from support.reference import reference


@pytest.mark.parametrize(
    ("keys", "points"),
    [
        ({}, [(112, 420)]),
        ({"points": ["-1 in", "150 %"]}, [(-40, 420), (840, 420)]),
        ({"horizon": "100 px"}, [(112, 160)]),
        ({"horizon": "-20 %", "third": ["50 %", "3 in"]}, [(112, -84), (320, 360)]),
        (
            {"points": ["0 px", "100 %"], "third": ["50 %", "-100 %"]},
            [(60, 420), (580, 420), (320, -660)],
        ),
    ],
)
def test_points_lie_where_they_are_said(
    keys: dict[str, Any], points: list[tuple[int, int]]
) -> None:
    """The horizon is measured from the top, points on it from the left, the third from both."""
    assert list(view(**keys).points) == points


places = st.integers(-900, 900).map(lambda x: f"{x} %")
steps = st.sampled_from(["1 deg", "7.5 deg", "10 deg", "37 deg", "90 deg"])
thirds: st.SearchStrategy[dict[str, Any]] = st.just({}) | st.tuples(
    places, st.integers(200, 900)
).map(lambda xy: {"third": [xy[0], f"{xy[1]} %"]})


@given(st.lists(places, min_size=1, max_size=2, unique=True), thirds, steps)
def test_rays_pass_through_their_points(
    points: list[str], third: dict[str, Any], step: str
) -> None:
    """Every ray lies on a line through a vanishing point, a whole number of steps from level.

    All is cut to the box, and every such line that meets the box is there.
    """
    found = view(points=points, **third, rays=step)
    shapely = reference("shapely")
    box = shapely.box(60, 60, 580, 780)
    smaller, larger = box.buffer(-1e-6), box.buffer(1e-6)
    wide = float(step.split()[0])
    for ray in found.rays:
        assert larger.covers(shapely.LineString(ray))
        if np.hypot(*np.subtract(*ray)) < 0.1:  # cuts a corner: too short to take its direction
            continue
        assert min(distance(point, ray) for point in found.points) < 1e-6
        assert angle(ray) % wide == pytest.approx(0, abs=1e-6) or wide - angle(ray) % wide < 1e-6
    inside = touching = 0
    for x, y in found.points:
        for k in range(int(np.ceil(180 / wide - 1e-9))):
            turn = np.radians(k * wide)
            dx, dy = 20_000 * np.cos(turn), 20_000 * np.sin(turn)
            line = shapely.LineString([(x - dx, y - dy), (x + dx, y + dy)])
            inside += line.intersects(smaller)
            touching += line.intersects(larger)
    assert inside <= len(found.rays) <= touching


@pytest.mark.parametrize(("horizon", "drawn"), [("50 %", True), ("-1 %", False), ("101 %", False)])
def test_the_horizon_is_level_and_inside(horizon: str, drawn: bool) -> None:
    """The horizon runs level from side to side, and is left out where it lies outside."""
    lines = view(horizon=horizon).horizon
    assert lines == ((((60, 420), (580, 420)),) if drawn else ())


def test_a_panel_s_perspective_is_cut_to_it() -> None:
    """Lines of a panel's perspective are drawn in that panel and nowhere else."""
    keys = {"horizon": "30 %", "points": ["-50 %", "130 %"], "rays": "6 deg"}
    layout = {"columns": [1, 1], "slant": "9 deg", "panel": {"1": {"perspective": keys}}}
    plan = page(layout)
    drawn = np.argwhere(pixels(plan, "Perspective"))
    shapely = reference("shapely")
    panel, other = outlines(plan)
    points = shapely.points(drawn[:, 1] + 0.5, drawn[:, 0] + 0.5)
    assert len(points) > 500
    assert shapely.distance(points, panel).max() < 1
    assert shapely.distance(points, other).min() > 8


def test_an_inset_covers_the_perspective_below() -> None:
    """Under an inset and its margin there are no lines of the panel below."""
    inset = {"over": 1, "width": "200 px", "height": "200 px", "at": ["100 px", "200 px"]}
    keys = {"horizon": "50 %", "points": ["40 %"], "rays": "3 deg"}
    plan = page(SPLASH | {"panel": {"1": {"perspective": keys}}, "insets": [inset]})
    plane = pixels(plan, "Perspective")
    assert not plane[250:470, 150:370].any()
    assert plane[480, 100:500].any()


def test_two_panels_have_their_own() -> None:
    """Each panel may have a perspective of its own, measured in its own box."""
    keys = {"1": {"perspective": {"horizon": "50 %", "points": ["50 %"]}}}
    keys["2"] = {"perspective": {"horizon": "1 in", "points": ["1 in"]}}
    plan = page({"tiers": [2], "panel": keys})
    views = [panel.view for panel in plan.panels if panel.view]
    assert [view.points for view in views] == [((187.5, 420),), ((425, 160),)]
    assert "Perspective" in layers(plan)


WRONG = {
    "the same points": (
        {"points": ["20 %", "20 %"]},
        "points: both vanishing points are the same. Write two places.",
    ),
    "the same places in two units": (
        {"points": ["50 %", "260 px"]},
        "points: both vanishing points are the same. Write two places.",
    ),
    "third on the horizon": (
        {"points": ["0 %", "100 %"], "third": ["50 %", "50 %"]},
        "third: the third vanishing point lies on the horizon. Write a place above or below the "
        "horizon; a second point on the horizon stands in points.",
    ),
    "third on the horizon with one point": (
        {"points": ["0 %"], "third": ["50 %", "50 %"]},
        "third: the third vanishing point lies on the horizon. Write a place above or below the "
        "horizon; a second point on the horizon stands in points.",
    ),
    "too far": (
        {"points": ["20100 %"]},
        "points: vanishing point 1 lies 104580, 420 px away, as good as nowhere. Leave it out "
        "for lines that never meet, or put it at most 200 times the width or height away.",
    ),
}


@pytest.mark.parametrize(("keys", "said"), WRONG.values(), ids=WRONG)
@pytest.mark.parametrize("of", ["page", "panel"])
def test_wrong_points_are_refused(of: str, keys: dict[str, Any], said: str) -> None:
    """Points and walls that no drawing can have are refused, for a page and for a panel."""
    table = {"perspective": {"horizon": "50 %", "points": ["10 %"]} | keys}
    text = refusal(SPLASH | (table if of == "page" else {"panel": {"1": table}}))
    place = "" if of == "page" else "panel.1."
    assert text == f"page 1, pages[1].{place}perspective.{said}"


@pytest.mark.parametrize("points", [["19990 %"], ["-19990 %", "19990 %"]])
def test_far_points_are_allowed(points: list[str]) -> None:
    """A point almost 200 widths away still has its level ray in the box."""
    found = view(points=points, rays="1 deg")
    assert np.array(found.rays) == pytest.approx(np.array([[(60, 420), (580, 420)]] * len(points)))
