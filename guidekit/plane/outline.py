"""The outline of something flat: a box while all edges are level and upright, else a polygon."""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor

from guidekit.plane.box import Box
from guidekit.plane.polygon import Points, corners

#: A box where all edges are straight and all corners square, else the corners of a polygon.
Outline = Box | Points


def points_of(outline: Outline) -> Points:
    """The corners in order; of a box from the upper left, as the clock runs."""
    return corners(outline) if isinstance(outline, Box) else outline


def box_of(outline: Outline) -> Box:
    """The smallest box of whole pixels that holds an outline."""
    if isinstance(outline, Box):
        return outline
    left, top, right, bottom = bounds([outline])
    e = 1e-6  # so much of a pixel is noise
    return Box(floor(left + e), floor(top + e), ceil(right - e), ceil(bottom - e))


def size_of(outline: Outline) -> str:
    """``120 × 80 px``, of the smallest box that holds an outline."""
    box = box_of(outline)
    return f"{box.width} × {box.height} px"


def bounds(outlines: Iterable[Outline]) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of the smallest rectangle round all outlines, which are some."""
    x, y = zip(*(point for outline in outlines for point in points_of(outline)), strict=True)
    return min(x), min(y), max(x), max(y)
