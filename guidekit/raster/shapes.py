"""What a layer is made of: ruled lines, polygons, strokes and text, all immutable.

`cover` turns shapes into bands; a writer of a vector format uses the shapes themselves.
Coordinates are canvas pixels, x to the right, y downward.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from math import hypot

import numpy as np

from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.plane.polygon import Point, Points, clockwise, corners
from guidekit.plane.rings import Rings
from guidekit.raster.bands import EMPTY, Bands
from guidekit.raster.blend import common, minus, union
from guidekit.raster.fill import fill_boxes, fill_rings
from guidekit.raster.text import Text, cover_text

Dash = tuple[int, ...]  # pixels on, off, on, off …


@dataclass(frozen=True)
class Rule:
    """A filled box; with a dash, a straight line interrupted along the longer side of the box.

    The pattern is laid from both ends to the middle, so that the line equals its mirror image.
    """

    box: Box
    dash: Dash = ()


@dataclass(frozen=True)
class Stroke:
    """A slanted line of constant weight, measured across it, with square ends."""

    start: Point
    end: Point
    weight: float
    dash: Dash = ()


@dataclass(frozen=True)
class Polygon:
    """A filled polygon: its corners in order, closed by itself, no crossing edges."""

    points: Points


@dataclass(frozen=True)
class Solid:
    """What rings wind round: outlines as the clock runs, their holes the other way round.

    No edges cross. So each pixel comes out by its exact area, however many edges share it.
    """

    rings: Rings

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:  # asked for often, of what may have thousands of corners
        return hash(self.rings)


@dataclass(frozen=True)
class Area:
    """What `shapes` cover and `holes`, which lie in them and apart from each other, do not.

    Exact where the edges of the one do not share a pixel with those of the other; else a `Solid`.
    """

    shapes: tuple[Shape, ...]
    holes: tuple[Shape, ...]


@dataclass(frozen=True)
class Clip:
    """What `shapes` cover inside `within`."""

    shapes: tuple[Shape, ...]
    within: tuple[Shape, ...]


Shape = Rule | Stroke | Polygon | Solid | Text | Area | Clip


def outline(box: Box, weight: int, dash: Dash = (), outward: int = 0) -> tuple[Rule, ...]:
    """Four ruled lines along the edges of `box`, inside it but for `outward` pixels."""
    o = box.inset(-outward)
    i = o.inset(weight)
    if i.is_empty:
        return (Rule(o),)
    return (
        Rule(Box(o.left, o.top, o.right, i.top), dash),
        Rule(Box(o.left, i.bottom, o.right, o.bottom), dash),
        Rule(Box(o.left, o.top, i.left, o.bottom), dash),
        Rule(Box(i.right, o.top, o.right, o.bottom), dash),
    )


@remembered
def cover(shapes: tuple[Shape, ...], canvas: Box) -> Bands:
    """The union of the shapes inside `canvas`, cropped to what is there; values 0 to 255."""
    boxes = [*boxes_in(shapes)]
    rings = [*map(clockwise, polygons_in(shapes))]
    rings += [ring for shape in shapes if isinstance(shape, Solid) for ring in shape.rings]
    if rings:  # boxes are filled with them in one go: whole pixels come out the same
        filled = fill_rings([*rings, *(corners(Box(*box)) for box in boxes)], canvas)
    else:
        filled = fill_boxes(np.array(boxes, np.int64).reshape(-1, 4), canvas)
    parts = [
        filled,
        *(cover_text(shape, canvas) for shape in shapes if isinstance(shape, Text)),
        *(_combined(shape, canvas) for shape in shapes if isinstance(shape, (Area, Clip))),
    ]
    parts = [part for part in parts if part is not EMPTY]
    return union(parts) if len(parts) > 1 else parts[0] if parts else EMPTY


def _combined(shape: Area | Clip, canvas: Box) -> Bands:
    if isinstance(shape, Area):
        plain = tuple(hole for hole in shape.holes if not isinstance(hole, Area))
        areas = [(hole,) for hole in shape.holes if isinstance(hole, Area)]
        holes = (cover(some, canvas) for some in (plain, *areas) if some)
        return minus(cover(shape.shapes, canvas), *holes)
    return common(cover(shape.shapes, canvas), cover(shape.within, canvas))


def boxes_in(shapes: Iterable[Shape]) -> Iterator[tuple[int, int, int, int]]:
    """The boxes (left, top, right, bottom) that ruled lines fill, one for each dash."""
    for shape in shapes:
        if isinstance(shape, Rule):
            box = shape.box
            if not shape.dash:
                yield box.left, box.top, box.right, box.bottom
            elif box.width >= box.height:
                for a, b in _dashes(box.width, shape.dash):
                    yield box.left + a, box.top, box.left + b, box.bottom
            else:
                for a, b in _dashes(box.height, shape.dash):
                    yield box.left, box.top + a, box.right, box.top + b


def _dashes(length: int, dash: Dash) -> Iterator[tuple[int, int]]:
    """Where a dashed line of `length` is drawn: (from, to), the same seen from either end."""
    middle = (length + 1) // 2
    at, part = 0, 0
    while at < middle:
        reach = min(at + dash[part % len(dash)], middle)
        if part % 2 == 0 and reach == middle:
            yield at, length - at
        elif part % 2 == 0:
            yield at, reach
            yield length - reach, length - at
        at, part = reach, part + 1


def polygons_in(shapes: Iterable[Shape]) -> Iterator[Points]:
    """The polygons among the shapes, and those that slanted strokes are."""
    for shape in shapes:
        if isinstance(shape, Polygon):
            yield shape.points
        elif isinstance(shape, Stroke):
            yield from _stroke(shape)


def _stroke(stroke: Stroke) -> Iterator[Points]:
    (x0, y0), (x1, y1) = stroke.start, stroke.end
    length = hypot(x1 - x0, y1 - y0)
    if not length:
        return
    ux, uy = (x1 - x0) / length, (y1 - y0) / length
    ax, ay = -uy * stroke.weight / 2, ux * stroke.weight / 2  # across the line
    parts: Iterable[tuple[float, float]] = [(0.0, length)]
    if stroke.dash:  # the same seen from either end
        whole = max(1, round(length))
        dashes = _dashes(whole, stroke.dash)
        parts = ((a * length / whole, b * length / whole) for a, b in dashes)
    for begin, end in parts:
        px, py, qx, qy = x0 + ux * begin, y0 + uy * begin, x0 + ux * end, y0 + uy * end
        yield (px + ax, py + ay), (qx + ax, qy + ay), (qx - ax, qy - ay), (px - ax, py - ay)
