"""Slanted panels in pixels, beside areas that shapely (GEOS) measures pixel by pixel."""

from typing import Any

import numpy as np
import pytest
from support.areas import SMALL, covered
from support.laid_out_pages import outlines, page, pixels
from support.reference import reference

WEIGHT = 3
LAYOUTS = {
    "columns": {"columns": [1, 1], "slant": "13 deg"},
    "tiers": {"tiers": [1, 1, 1], "slants": ["-11 px", "7 deg"]},
    "nested": {
        "tiers": [{"panels": 2, "slant": "-15 deg"}, {"columns": [{"tiers": [1, 1]}, 1]}],
        "slant": "6 deg",
    },
}  # fmt: skip
layouts = pytest.mark.parametrize("layout", LAYOUTS.values(), ids=LAYOUTS)


@layouts
def test_borders_cover_what_they_should(layout: dict[str, Any]) -> None:
    """A border is all of a panel that is nearer to its edge than the border's weight."""
    shapely = reference("shapely")
    plan = page(layout, format=SMALL)
    lines = [
        panel - panel.buffer(-WEIGHT, join_style="mitre", mitre_limit=50)
        for panel in outlines(plan)
    ]
    mine = pixels(plan, "Panel borders")
    theirs = covered(shapely.union_all(lines), *mine.shape)
    assert np.abs(mine - theirs).max() <= 1
    assert ((mine > 0) & (mine < 255)).any(), "slanted edges are smooth"


@layouts
def test_gutters_cover_what_panels_leave(layout: dict[str, Any]) -> None:
    """The tint of the gutters is all of the frame that is in no panel."""
    shapely = reference("shapely")
    plan = page(layout, format=SMALL)
    rest = shapely.box(20, 20, 120, 150) - shapely.union_all(outlines(plan))
    mine = pixels(plan, "Gutters")
    assert np.abs(mine - covered(rest, *mine.shape)).max() <= 1
