"""Panel numbers stand in the corner where reading begins, free of all that lies there."""

from typing import Any

import numpy as np
import pytest
from support.laid_out_pages import layers, page, pixels, polygon
from support.reference import reference

from guidekit.geometry.page import PagePlan, Panel
from guidekit.layers.palette import pen_for
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline
from guidekit.raster.text import Text, text_width

LEANING = {
    "tiers": [{"panels": 2, "slant": "12 deg"}, {"panels": 3, "slant": "-20 deg"}],
    "slants": ["30 px"],
}
PAGES: dict[str, dict[str, Any]] = {
    "grid": {"tiers": [2, 3, 1]},
    "slanted": LEANING,
    "rounded": {"tiers": [2, 3, 1], "radius": "30 px"},
    "bleed": {"tiers": [2, 1], "panel": {"1": {"bleed": "all"}, "3": {"bleed": "all"}}},
    "nested": {"tiers": [{"columns": [{"tiers": [1, 2, 1]}, 1]}, 3]},
}
INSET = {"over": 1, "width": "30 %", "height": "20 %"}


def numbers(plan: PagePlan) -> list[Text]:
    """The numbers as they stand on a page."""
    shapes = layers(plan)["Panel numbers"].shapes
    assert all(isinstance(shape, Text) for shape in shapes)
    return [shape for shape in shapes if isinstance(shape, Text)]


def room(number: Text) -> list[float]:
    """The number with as much free space round it as it is high, left, top, right, bottom.

    A pixel less, for its place is rounded.
    """
    size, width = number.height, text_width(number.text, number.height)
    x, y = number.x, number.y
    return [x - size + 1, y - size + 1, x + width + size - 1, y + 2 * size - 1]


def inside_of(panel: Panel) -> Outline:
    """What is inside a panel's border."""
    inner = panel.border and panel.border.inner
    return inner or panel.outline


def ink_of(panel: Panel) -> Any:
    """What of a panel is inside its border and not under an inset, as shapely has it."""
    area = polygon(inside_of(panel))
    for cut in panel.cut_out:
        area = area.difference(polygon(cut))
    return area


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
@pytest.mark.parametrize("keys", PAGES.values(), ids=PAGES)
def test_nearest_to_the_corner(keys: dict[str, Any], direction: str) -> None:
    """No place inside the panel is nearer to its upper left or right corner, by shapely.

    The places of a box in a convex shape are what all its four corners leave: the shape moved by
    each of them, and of these the part in common (Minkowski difference).
    """
    shapely, affinity = reference("shapely"), reference("shapely.affinity")
    plan = page(keys, direction=direction)
    safe = shapely.box(*plan.boxes.safe_area.as_list())
    assert len(numbers(plan)) == len(plan.panels)
    for panel, number in zip(plan.panels, numbers(plan), strict=True):
        left, top, right, bottom = room(number)
        area = ink_of(panel).intersection(safe)
        places = area
        for x, y in ((0, 0), (right - left, 0), (0, bottom - top), (right - left, bottom - top)):
            places = places.intersection(affinity.translate(area, -x, -y))
        away = -1 if direction == "rtl" else 1
        assert shapely.distance(places, shapely.Point(left, top)) <= 1.5
        best = min(y + away * x for x, y in places.exterior.coords)
        assert top + away * left == pytest.approx(best, abs=5)


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
@pytest.mark.parametrize("keys", PAGES.values(), ids=PAGES)
def test_the_same_distance_everywhere(keys: dict[str, Any], direction: str) -> None:
    """Panels with square corners have their numbers at the same place, seen from that corner."""
    plan = page(keys, direction=direction)
    size = pen_for(plan).capitals * 3 // 2
    for panel, number in zip(plan.panels, numbers(plan), strict=True):
        inside = inside_of(panel)
        if number.height == size and isinstance(inside, Box):
            inner = inside.clipped(plan.boxes.safe_area)
            end = number.x + text_width(number.text, size)
            across = inner.right - end if direction == "rtl" else number.x - inner.left
            assert (across, number.y - inner.top) == (size, size)


@pytest.mark.parametrize("corner", ["top-left", "top-right", "bottom-left", "bottom-right"])
@pytest.mark.parametrize("direction", ["ltr", "rtl"])
def test_never_under_an_inset(corner: str, direction: str) -> None:
    """The number of a panel that has insets stands beside them, whole and not cut."""
    shapely = reference("shapely")
    insets = [INSET | {"corner": place} for place in {corner, "top-left"}]
    keys = {"tiers": [1, 2], "insets": insets}
    plan = page(keys, direction=direction)
    for panel, number in zip(plan.panels, numbers(plan), strict=True):
        assert ink_of(panel).contains(shapely.box(*room(number)))


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
@pytest.mark.parametrize("strip", ["0 px", "40 px"])
def test_off_the_fold(direction: str, strip: str) -> None:
    """On a spread no number stands in the fold or in what it may swallow."""
    beside = [{"widths": [99 - n, 101 + n]} for n in range(9)]  # a panel begins before the fold
    keys = {"spread": True, "tiers": [{"columns": [1, 1, 1], "widths": [99, 2, 99]}, *beside]}
    preset = {"ltr": "us-comic", "rtl": "jis-b5"}[direction]
    before = {"panels": "splash", "count": 1}
    plan = page(before, keys, preset=preset, format={"fold_strip": strip, "dpi": 100})
    fold = plan.boxes.fold
    assert fold is not None
    half = max(1, int(strip.split()[0]) // 2)
    assert not pixels(plan, "Panel numbers")[:, fold - half : fold + half].any()


def test_small_panels_have_small_numbers() -> None:
    """Where the number's room is larger than the panel it is made smaller, down to what is read."""
    plan = page({"columns": [12, 12, 1]})
    heights = {number.height for number in numbers(plan)}
    assert max(heights) == pen_for(plan).capitals * 3 // 2
    assert 5 <= min(heights) < max(heights)
    for number in numbers(plan):
        panel = next(p for p in plan.panels if str(p.number) == number.text)
        assert ink_of(panel).contains(reference("shapely").box(*room(number)))


def test_numbers_are_seen_in_every_panel() -> None:
    """On a page of the example every number has ink in its own panel and in no other."""
    plan = page(PAGES["grid"])
    ink = pixels(plan, "Panel numbers") > 0
    for panel in plan.panels:
        left, top, right, bottom = panel.box.as_list()
        assert ink[top:bottom, left:right].any()
        ink[top:bottom, left:right] = False
    assert not np.any(ink)
