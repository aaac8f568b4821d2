"""Every pixel of borders, gutters, cover and masks, beside areas that shapely (GEOS) measures.

Where panels lie against each other, or are rounded, several edges share a pixel; what it shows is
still the area that is covered, within 2 of 255.
"""

from functools import reduce
from typing import Any

import numpy as np
import pytest
from hypothesis import event, given, reject
from hypothesis import strategies as st
from support.areas import SMALL, covered
from support.laid_out_pages import page, pixels, polygon
from support.reference import reference

from guidekit.errors import InputError

NEAR = 2
COVER = {"gutter_cover": True}
BUTTED = {"gutter": "0 px"}

LAYOUTS: dict[str, tuple[dict[str, Any], dict[str, Any]]] = {
    "four rounded": ({"tiers": [2, 2]}, BUTTED | {"radius": "9 px"}),
    "staggered rounded": ({"tiers": [2, 3, 1]}, BUTTED | {"radius": "7 px"}),
    "slanted rounded": (
        {"tiers": [{"panels": 2, "slant": "9 deg"}, {"panels": 3, "slant": "-7 deg"}]},
        BUTTED | {"radius": "6 px"},
    ),
    "slanted": ({"columns": [2, 3], "slant": "8 deg"}, BUTTED),
    "thin": ({"columns": [2, 3], "slant": "8 deg"}, BUTTED | {"border": "1 px"}),
    "odd": ({"columns": [2, 1], "slant": "-8 deg"}, BUTTED | {"border": "5 px", "radius": "8 px"}),
    "leaning": ({"tiers": [1, 1, 1], "slant": "1 deg"}, BUTTED | {"border": "1 px"}),
    "one side": (
        {"columns": [{"tiers": [1, 1]}, 1], "gutters": ["0 px"]},
        {"radius": "8 px"},
    ),
}
INSETS = {
    "inset": {"over": 1, "width": "20 px", "height": "15 px", "corner": "top-left",
              "radius": "0 px"},
    "rounded": {"over": 1, "width": "21 px", "height": "19 px", "at": ["5 px", "20 px"],
                "gutter": "0 px", "radius": "5 px"},
    "margin": {"over": 1, "width": "21 px", "height": "19 px", "at": ["8 px", "22 px"],
               "gutter": "3 px", "radius": "5 px"},
}  # fmt: skip


def shapes_of(plan: Any) -> tuple[list[Any], list[Any]]:
    """The panels with what insets cut out of them, and their borders, as shapes of shapely."""
    areas, rings = [], []
    for panel in plan.panels:
        holes = [polygon(hole) for hole in panel.cut_out]
        areas.append(reduce(lambda a, b: a - b, holes, polygon(panel.outline)))
        if panel.border:
            ring = polygon(panel.border.outer)
            if panel.border.inner:
                ring = ring - polygon(panel.border.inner)
            rings.append(reduce(lambda a, b: a - b, holes, ring))
    return areas, rings


def worst(plan: Any) -> dict[str, float]:
    """By how much of 255 each layer differs from the area that it should cover, at most."""
    shapely = reference("shapely")
    areas, rings = shapes_of(plan)
    canvas = shapely.box(*plan.boxes.canvas.as_list())
    whole = shapely.union_all(areas)
    frame = shapely.union_all([polygon(frame) for frame in plan.frames])
    expected = {
        "Panel borders": shapely.union_all(rings),
        "Gutter cover": canvas - whole,
        "Gutters": frame - whole,
    }
    if len(areas) == 1:
        del expected["Gutters"]  # there are none
    found = {}
    for name, shape in expected.items():
        try:
            mine = pixels(plan, name).astype(float)
        except KeyError:  # nothing to show
            mine = np.zeros((plan.boxes.canvas.height, plan.boxes.canvas.width))
        found[name] = float(np.abs(mine - covered(shape, *mine.shape)).max())
    return found


@pytest.mark.parametrize("inset", [None, *INSETS])
@pytest.mark.parametrize("name", LAYOUTS)
def test_every_pixel(name: str, inset: str | None) -> None:
    """Rounded, slanted and butted panels, with and without insets, come out by area."""
    layout, format = LAYOUTS[name]
    insets = [INSETS[inset]] if inset else []
    plan = page(layout | {"insets": insets}, format=SMALL | COVER | format)
    found = worst(plan)
    assert {key: off for key, off in found.items() if off > NEAR} == {}


degrees = st.integers(-9, 9).map("{} deg".format)


@st.composite
def pages(draw: st.DrawFn) -> tuple[dict[str, Any], dict[str, Any]]:
    """A page of stacks with few gutters, and its format."""
    parts: list[Any] = []
    for _ in range(draw(st.integers(1, 3))):
        number = draw(st.integers(1, 3))
        part: dict[str, Any] = {"panels": number}
        if number > 1:
            part["slant"] = draw(degrees)
        parts.append(part)
    layout = {draw(st.sampled_from(["tiers", "columns"])): parts, "slant": draw(degrees)}
    if len(parts) == 1:
        del layout["slant"]
    if draw(st.booleans()):
        layout["insets"] = [draw(st.sampled_from([*INSETS.values()]))]
    format = {
        "gutter": draw(st.sampled_from(["0 px", "0 px", "4 px"])),
        "radius": f"{draw(st.integers(0, 8))} px",
        "border": f"{draw(st.integers(1, 5))} px",
    }
    return layout, format


@given(pages())
def test_every_pixel_of_random_pages(found: tuple[dict[str, Any], dict[str, Any]]) -> None:
    """Whatever is butted, slanted, rounded and laid over comes out by area."""
    layout, format = found
    try:
        plan = page(layout, format=SMALL | COVER | format)
    except InputError:
        reject()
    event("with an inset" if "insets" in layout else "without")
    off = worst(plan)
    assert {key: value for key, value in off.items() if value > NEAR} == {}
