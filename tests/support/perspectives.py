"""A page with a perspective, and what is asked of its lines."""

from math import atan2, degrees
from typing import Any

import numpy as np

from guidekit.geometry.panels.perspective import PerspectiveLines
from support.laid_out_pages import page

SPLASH = {"panels": "splash"}


def view(**keys: Any) -> PerspectiveLines:
    """The perspective of a page, with a horizon in its middle and a point at its left."""
    given_ = {"horizon": "50 %", "points": ["10 %"]} | keys
    found = page(SPLASH | {"perspective": given_}).view
    assert found
    return found


def distance(point: tuple[float, float], line: Any) -> float:
    """From a point to the straight line through the two ends of another."""
    (ax, ay), (bx, by) = line
    ux, uy = bx - ax, by - ay
    return float(abs(ux * (point[1] - ay) - uy * (point[0] - ax)) / np.hypot(ux, uy))


def angle(line: Any) -> float:
    """The direction of a line, from 0 to 180 degrees."""
    (ax, ay), (bx, by) = line
    return degrees(atan2(by - ay, bx - ax)) % 180
