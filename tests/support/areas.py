"""A small page, and the area of every pixel that a shape of shapely covers."""

from typing import Any

import numpy as np

from support.reference import reference

#: A canvas of 140 × 170 pixels with the frame (20, 20, 120, 150).
SMALL = {
    "trim": {"width": "120 px", "height": "150 px"},
    "bleed": "10 px",
    "safe_area": "10 px",
    "gutter": "6 px",
    "border": "3 px",
}


def covered(shape: Any, height: int, width: int) -> np.ndarray:
    """255 times the area of every pixel that lies in a shape of shapely."""
    shapely = reference("shapely")
    y, x = np.mgrid[:height, :width]
    shapely.prepare(shape)
    pixels = shapely.box(x, y, x + 1, y + 1)
    area: np.ndarray = shapely.area(shapely.intersection(pixels, shape))
    return area * 255
