"""Polygons: cut by straight lines, turned, measured.

Corners are (x, y) in canvas pixels, in order. Only slanted edges make them anything but whole.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import cos, hypot, radians, sin

from guidekit.plane.box import EDGES, Box, Edge

Point = tuple[float, float]
Points = tuple[Point, ...]
NOISE = 1e-9  # px: what arithmetic adds to a distance that is none


@dataclass(frozen=True)
class HalfPlane:
    """One side of a straight line: the points where ``a·x + b·y ≤ c``; (a, b) has length 1."""

    a: float
    b: float
    c: float

    def beyond(self, point: Point) -> float:
        """How far a point lies on the wrong side, in pixels; negative on the right one."""
        return self.a * point[0] + self.b * point[1] - self.c

    def flipped(self) -> HalfPlane:
        """The other side of the same line."""
        return HalfPlane(-self.a, -self.b, -self.c)

    def moved(self, inward: float) -> HalfPlane:
        """The line moved toward its good side."""
        return HalfPlane(self.a, self.b, self.c - inward)


def corners(box: Box) -> Points:
    """The four corners of a box, from the upper left, as the clock runs."""
    return (
        (box.left, box.top),
        (box.right, box.top),
        (box.right, box.bottom),
        (box.left, box.bottom),
    )


def clip(points: Points, side: HalfPlane) -> Points:
    """What lies on the good side (Sutherland and Hodgman, 1974); nothing may be left."""
    distances = [side.beyond(point) for point in points]
    distances = [d if abs(d) > NOISE else 0.0 for d in distances]  # through a corner, or past it
    if all(d <= 0 for d in distances):
        return points
    kept: list[Point] = []
    for i, (p, d) in enumerate(zip(points, distances, strict=True)):
        q, e = points[i - 1], distances[i - 1]
        if (d <= 0) != (e <= 0):
            t = e / (e - d)
            kept.append((q[0] + (p[0] - q[0]) * t, q[1] + (p[1] - q[1]) * t))
        if d <= 0:
            kept.append(p)
    ring = tuple(p for p, q in zip(kept, (kept[-1:] + kept), strict=False) if p != q)
    return ring if len(set(ring)) > 2 else ()


def clip_all(points: Points, sides: Sequence[HalfPlane]) -> Points:
    """What lies on the good side of all."""
    for side in sides:
        points = clip(points, side)
    return points


def side_at(box: Box, edge: Edge) -> HalfPlane:
    """The line along an edge of a box; the box lies on its good side."""
    match edge:
        case "left":
            return HalfPlane(-1, 0, -box.left)
        case "top":
            return HalfPlane(0, -1, -box.top)
        case "right":
            return HalfPlane(1, 0, box.right)
        case "bottom":
            return HalfPlane(0, 1, box.bottom)


def edges_by_side(box: Box) -> dict[HalfPlane, Edge]:
    """The edges of a box by the lines along them."""
    return {side_at(box, edge): edge for edge in EDGES}


def sides_of(points: Points) -> tuple[HalfPlane, ...]:
    """The lines along the sides of a polygon whose corners run as the clock does, in order."""
    pairs = zip(points, points[1:] + points[:1], strict=True)
    found = []
    for p, q in pairs:
        length = hypot(q[0] - p[0], q[1] - p[1])
        a, b = (q[1] - p[1]) / length, (p[0] - q[0]) / length
        found.append(HalfPlane(a, b, a * p[0] + b * p[1]))
    return tuple(found)


def clip_box(points: Points, box: Box) -> Points:
    """What lies in a box."""
    return clip_all(points, [*edges_by_side(box)])


def area(points: Points) -> float:
    """The area in square pixels; positive if the corners run as the clock does."""
    pairs = zip(points, points[1:] + points[:1], strict=True)
    return sum(p[0] * q[1] - q[0] * p[1] for p, q in pairs) / 2


def holds(points: Points, point: Point) -> bool:
    """True if a point lies in a polygon of any shape: a ray from it crosses an odd number of edges.

    Of two polygons with a common edge one holds the points on it.
    """
    x, y = point
    return (
        sum(
            (p[1] <= y) != (q[1] <= y) and x < p[0] + (q[0] - p[0]) * (y - p[1]) / (q[1] - p[1])
            for p, q in zip(points, points[1:] + points[:1], strict=True)
        )
        % 2
        == 1
    )


def direction(p: Point, q: Point) -> Point:
    """The way from one point to another, one pixel long."""
    length = hypot(q[0] - p[0], q[1] - p[1])
    return (q[0] - p[0]) / length, (q[1] - p[1]) / length


def turned(points: Points, middle: Point, degrees: float) -> Points:
    """Turned about a point, as the clock runs."""
    if not degrees:
        return points
    c, s = cos(radians(degrees)), sin(radians(degrees))
    x, y = middle
    return tuple(
        (x + (px - x) * c - (py - y) * s, y + (px - x) * s + (py - y) * c) for px, py in points
    )


def turning(points: Points) -> Points:
    """The corners without those at which nothing turns, or that lie on the one before."""
    some = [p for p, q in zip(points, (*points[1:], *points[:1]), strict=True) if p != q]
    around = zip([*some[-1:], *some], some, [*some[1:], *some[:1]], strict=False)
    return tuple(
        q for p, q, r in around if (q[0] - p[0]) * (r[1] - q[1]) != (q[1] - p[1]) * (r[0] - q[0])
    )


def clockwise(points: Points) -> Points:
    """The same corners in the order in which the clock runs."""
    return points if area(points) >= 0 else points[::-1]
