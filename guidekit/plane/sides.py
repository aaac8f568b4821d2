"""A polygon of any shape with each of its sides moved by a distance of its own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import atan2, hypot, tan

from guidekit.plane.polygon import Point, Points
from guidekit.plane.rings import MITRE, Rings, clean

PARALLEL = 1e-6  # sine of the angle between two sides


def moved(points: Points, inward: Sequence[float]) -> Rings:
    """The side from each corner to the next moved inward by so many pixels, outward if negative.

    The corners run as the clock does. Where sides pass each other nothing is left, and a narrow
    place may part the polygon in two.
    """
    pairs = [*zip(points, (*points[1:], points[0]), inward, strict=True)]
    sides = [_Moved(p, q, by) for p, q, by in pairs if p != q]
    corners = (corner for i, side in enumerate(sides) for corner in _corner(sides[i - 1], side))
    return clean((tuple(corners),))


class _Moved:
    """A side that begins at `start`, its direction, and its distance inward."""

    def __init__(self, start: Point, end: Point, by: float):
        length = hypot(end[0] - start[0], end[1] - start[1])
        self.start, self.by = start, by
        self.x, self.y = (end[0] - start[0]) / length, (end[1] - start[1]) / length

    def place(self, corner: Point) -> Point:
        """Where a corner on the side comes to lie."""
        return corner[0] - self.y * self.by, corner[1] + self.x * self.by


def _corner(before: _Moved, behind: _Moved) -> Iterator[Point]:
    """The corner between two sides that were moved.

    Where they part, the old corner between them makes a loop that is dropped; where they close in,
    they meet in a mitre, or are cut off as far away as they moved where that would reach too far.
    """
    corner = behind.start
    first, last = before.place(corner), behind.place(corner)
    turn = before.x * behind.y - before.y * behind.x  # above 0 at a corner that sticks out
    if abs(turn) < PARALLEL:
        yield from (first, last)
        return
    if turn * before.by >= 0 and turn * behind.by >= 0:
        yield from (first, corner, last)
        return
    t = ((last[0] - first[0]) * behind.y - (last[1] - first[1]) * behind.x) / turn
    mitre = first[0] + t * before.x, first[1] + t * before.y
    far = max(abs(before.by), abs(behind.by))
    if hypot(mitre[0] - corner[0], mitre[1] - corner[1]) <= MITRE * far:
        yield mitre
        return
    along = far * tan(atan2(abs(turn), before.x * behind.x + before.y * behind.y) / 4)
    yield first[0] + before.x * along, first[1] + before.y * along
    yield last[0] - behind.x * along, last[1] - behind.y * along
