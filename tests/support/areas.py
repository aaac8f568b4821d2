"""A small page, and the area of every pixel that a shape of shapely covers."""

from functools import cache
from typing import Any

import numpy as np

from guidekit.geometry.page import PagePlan
from guidekit.layers.model import Group
from guidekit.raster.shapes import cover
from support.free_pages import ring, seen
from support.laid_out_pages import members, pixels, polygon
from support.planes import plane
from support.reference import reference

#: A canvas of 140 × 170 pixels with the frame (20, 20, 120, 150).
SMALL = {
    "trim": {"width": "120 px", "height": "150 px"},
    "bleed": "10 px",
    "safe_area": "10 px",
    "gutter": "6 px",
    "border": "3 px",
}


@cache
def _pixels(height: int, width: int) -> Any:
    """The square of every pixel, and its middle, row by row."""
    y, x = np.mgrid[:height, :width]
    return reference("shapely").box(x, y, x + 1, y + 1), x + 0.5, y + 0.5


def covered(shape: Any, height: int, width: int) -> np.ndarray:
    """255 times the area of every pixel that lies in a shape of shapely.

    A pixel that the edge of the shape does not touch lies in it with all of its area or with none.
    """
    shapely = reference("shapely")
    squares, x, y = _pixels(height, width)
    edge = shapely.boundary(shape)
    shapely.prepare([shape, edge])
    area: np.ndarray = shapely.contains_xy(shape, x, y).astype(float)
    cut = shapely.intersects(edge, squares)
    area[cut] = shapely.area(shapely.intersection(squares[cut], shape))
    return area * 255


def worst(plan: PagePlan) -> dict[str, float]:
    """By how much of 255 each layer differs from the area that it should cover, at most."""
    shapely = reference("shapely")
    areas, rings = [*map(seen, plan.panels)], [*map(ring, plan.panels)]
    canvas = shapely.box(*plan.boxes.canvas.as_list())
    whole = shapely.union_all(areas)
    frame = shapely.union_all([polygon(frame) for frame in plan.frames])
    expected = {
        "Panel borders": shapely.union_all(rings),
        "Gutter cover": canvas - whole,
        "Gutters": frame - whole - shapely.union_all([polygon(place) for place in plan.empty]),
    }
    if len(areas) + len(plan.empty) == 1:
        del expected["Gutters"]  # there are none
    found = {}
    for name, shape in expected.items():
        try:
            mine = pixels(plan, name).astype(float)
        except KeyError:  # nothing to show
            mine = np.zeros((plan.boxes.canvas.height, plan.boxes.canvas.width))
        found[name] = float(np.abs(mine - covered(shape, *mine.shape)).max())
    return found


def masks(plan: PagePlan) -> np.ndarray:
    """The sum of the masks of all panels."""
    canvas = plan.boxes.canvas
    groups = [x for x in members(plan).values() if isinstance(x, Group) and x.mask]
    found: np.ndarray = sum(
        (plane(cover(x.mask, canvas), canvas).astype(int) for x in groups), np.zeros(1, int)
    )
    return found
