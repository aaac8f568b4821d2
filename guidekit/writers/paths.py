"""Shapes as closed paths, for formats that keep lines and areas as such.

Coordinates are canvas pixels, x to the right, y downward, exactly those that coverage is made of:
dashes and the corners of slanted lines come from `guidekit.raster.shapes`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import combinations

import numpy as np

from guidekit.plane.box import Box
from guidekit.plane.outline import Outline, bounds, points_of
from guidekit.plane.polygon import area
from guidekit.raster.shapes import Area, Polygon, Rule, Shape, boxes_in, polygons_in

NOISE = 1e-6  # square pixels: below that, a corner of a fraction lies on an edge
#: A closed path without crossings, whose corners turn the way a box's corners do.
Ring = Outline


def number(x: float, places: int = 4) -> str:
    """A coordinate as text: at most so many decimals, no exponent, no ``-0``."""
    if x == int(x):
        return str(int(x))
    text = f"{x:.{places}f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def rings_of(shapes: Iterable[Shape]) -> tuple[Ring, ...]:
    """Ruled lines dash by dash, strokes and polygons; solids, text, areas, clips are left out."""
    shapes = tuple(shapes)
    boxes = (Box(*edges) for edges in boxes_in(shapes))
    rings: list[Ring] = [box for box in boxes if not box.is_empty]
    rings += [
        tuple(points if turn > 0 else points[::-1])
        for points in polygons_in(shapes)
        if (turn := area(points))  # none where a polygon has no area
    ]
    return tuple(rings)


def even_odd_rings(shape: Area) -> tuple[Ring, ...] | None:
    """Outlines and holes that, filled by the even-odd rule, show the area; None if there are none.

    That is so where the outlines lie apart, the holes lie apart, and every hole is in an outline.
    """
    if not all(_is_plain(part) for part in (*shape.shapes, *shape.holes)):
        return None
    outlines, holes = rings_of(shape.shapes), rings_of(shape.holes)
    inside = all(any(holds(outline, hole) for outline in outlines) for hole in holes)
    return (*outlines, *holes) if inside and _apart(outlines) and _apart(holes) else None


def apart(a: Ring, b: Ring) -> bool:
    """True if the boxes round two rings have no area in common, so that the rings have none."""
    left, top, right, bottom = bounds([a])
    other = bounds([b])
    return left >= other[2] or other[0] >= right or top >= other[3] or other[1] >= bottom


def _is_plain(shape: Shape) -> bool:
    return isinstance(shape, Polygon) or (isinstance(shape, Rule) and not shape.dash)


def _apart(rings: Sequence[Ring]) -> bool:
    return all(apart(a, b) for a, b in combinations(rings, 2))


def holds(outline: Ring, hole: Ring) -> bool:
    """True if `outline` is convex and has all corners of `hole`, edges included.

    Every corner, its own ones too, then lies on the inner side of all edges.
    """
    if isinstance(outline, Box) and isinstance(hole, Box):
        return outline.holds(hole)
    start = np.array(points_of(outline), float)
    along = np.roll(start, -1, axis=0) - start
    points = np.concatenate([start, np.array(points_of(hole), float)])[:, None]
    side = along[:, 0] * (points - start)[..., 1] - along[:, 1] * (points - start)[..., 0]
    return bool((side >= -NOISE).all())
