"""Every pixel of pages with free panels, beside areas that shapely (GEOS) measures."""

from typing import Any

import numpy as np
import pytest
from hypothesis import given, reject
from support.areas import SMALL, covered, masks, worst
from support.free_pages import ARROW, STAR, free_pages, mirrored_free, seen
from support.laid_out_pages import layers, members, page, pixels
from support.planes import plane
from support.random_pages import mirrored
from support.reference import reference

from guidekit.errors import InputError
from guidekit.layers.model import Group
from guidekit.raster.shapes import cover

NEAR = 2
TWO = {"tiers": [2, 1]}
FORMAT = SMALL | {
    "gutter_cover": True,
    "drawing": [{"name": "Inks"}],
    "panel_groups": ["Inks"],
}
CAT = [["20 %", "30 %"], ["50 %", "-40 %"], ["90 %", "40 %"]]
MOON = {"at": ["60 %", "-30 %"], "width": "70 %", "height": "60 %"}
PLACE = {"at": ["10 %", "15 %"], "width": "70 %", "height": "60 %"}

FORMS: dict[str, dict[str, Any]] = {
    "tilted": {"panel": {"1": {"tilt": "11 deg"}, "3": {"tilt": "-5 deg", "radius": "9 px"}}},
    "ellipses": {"panel": {"1": {"ellipse": True}, "2": {"ellipse": True, "tilt": "30 deg"}}},
    "points": {"panel": {"1": {"points": STAR}, "3": {"points": ARROW, "radius": "3 px"}}},
    "corners": {
        "panel": {"1": {"cut_corners": "7 px"}, "3": {"stepped_corners": "9 px", "tilt": "4 deg"}}
    },
    "breaking out": {"panel": {"1": {"break_out": {"right": "19 px", "left": "30 px"}}}},
    "figures": {
        "panel": {
            "3": {
                "figures": [
                    {"name": "Cat", "points": CAT},
                    {"name": "Moon", "ellipse": True, "gutter": "4 px"} | MOON,
                ]
            }
        }
    },
    "insets": {
        "insets": [
            PLACE | {"within": "frame", "tilt": "-8 deg"},
            PLACE | {"within": "bleed", "ellipse": True, "at": ["50 %", "60 %"], "level": -1},
            {"over": 3, "points": STAR, "gutter": "0 px", "level": 2},
        ]
    },
}


@pytest.mark.parametrize("name", FORMS)
def test_every_pixel(name: str) -> None:
    """Each form of free panels comes out by area, in borders, gutters and cover."""
    off = worst(page(TWO | FORMS[name], format=FORMAT))
    assert {key: value for key, value in off.items() if value > NEAR} == {}


@pytest.mark.parametrize("tilt", [0, 33])
def test_every_pixel_of_a_curve(tilt: int) -> None:
    """An ellipse comes out by the area within the curve itself, and not only within its chords.

    The curve is a circle of 1,200 corners that shapely stretches and turns.
    """
    affinity = reference("shapely.affinity")
    layout = {"tiers": [1], "panel": {"1": {"ellipse": True, "tilt": f"{tilt} deg"}}}
    plan = page(layout, format=FORMAT)
    circle = reference("shapely").Point(0, 0).buffer(1, quad_segs=300)
    whole = affinity.translate(affinity.rotate(affinity.scale(circle, 50, 65), tilt), 70, 85)
    mask = members(plan)["Panel 1"]
    assert isinstance(mask, Group)
    canvas = plan.boxes.canvas
    found = plane(cover(mask.mask, canvas), canvas).astype(float)
    assert np.abs(found - covered(whole, *found.shape)).max() <= NEAR


@given(free_pages())
def test_random_pages(layout: dict[str, Any]) -> None:
    """Nothing overlaps but what is laid over; masks and cover fill the canvas; all is exact."""
    shapely = reference("shapely")
    try:
        plan = page(layout, format=FORMAT)
    except InputError:
        reject()
    areas = [*map(seen, plan.panels)]
    assert sum(area.area for area in areas) - shapely.union_all(areas).area < 0.01
    whole = masks(plan) + pixels(plan, "Gutter cover")
    assert np.abs(whole - 255).max() <= 3  # a rounding for each that shares the pixel
    assert {key: off for key, off in worst(plan).items() if off > NEAR} == {}


@given(free_pages())
def test_left_pages_mirror(layout: dict[str, Any]) -> None:
    """A left page with all of a right page's panels mirrored is its mirror image, to 1 of 255."""
    other = mirrored(layout) | {
        "panel": {number: mirrored_free(own) for number, own in layout["panel"].items()},
        "insets": [*map(mirrored_free, layout["insets"])],
    }
    try:
        right = page(layout, format=FORMAT)
    except InputError:
        reject()
    left = page(other, format=FORMAT, direction="rtl")
    assert (right.side, left.side) == ("right", "left")
    for name in {"Panel borders", "Gutters", "Gutter cover"} & layers(right).keys():
        assert alike(pixels(right, name), pixels(left, name)), name
    assert alike(masks(right), masks(left))


def alike(right: Any, left: Any) -> bool:
    """True if one is the mirror image of the other; edges of free shapes may round to the next."""
    return bool(np.abs(right.astype(int) - left[:, ::-1]).max() <= 1)
