"""Every pixel of borders, gutters, cover and masks, beside areas that shapely (GEOS) measures.

Where panels lie against each other, or are rounded, several edges share a pixel; what it shows is
still the area that is covered, within 2 of 255.
"""

from typing import Any

import pytest
from hypothesis import event, given, reject
from hypothesis import strategies as st
from support.areas import SMALL, worst
from support.laid_out_pages import page
from support.long import shortened

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
    "round by a pixel": ({"tiers": [1, 1]}, BUTTED | {"border": "1 px", "radius": "1 px"}),
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


@pytest.mark.parametrize("inset", shortened([None, *INSETS], [None, "margin"]))
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
