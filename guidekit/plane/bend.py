"""Bent lines, and what lies on one side of them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from math import asin, ceil, cos, hypot, sin, sqrt

from guidekit.plane.polygon import Point, Points, direction
from guidekit.plane.rings import FLAT, GRID, Rings
from guidekit.plane.sides import moved

BEYOND = 2.0**20  # px: how far a line goes on beyond its ends, past every canvas
ON_IT = 4 / GRID  # px: how far from a line what was worked out on the grid may lie


@dataclass(frozen=True)
class Bend:
    """One side of a bent line: what lies on the right hand of one who goes along it.

    The line runs beside its `spine`, `inward` pixels to the right, and keeps that distance round
    every corner; beyond the two ends of the spine it goes straight on. One that is `round` stands
    for an arc.
    """

    spine: Points
    inward: float = 0.0
    round: bool = False

    def moved(self, inward: float) -> Bend:
        """The line moved toward its good side."""
        return replace(self, inward=self.inward + inward)

    def flipped(self) -> Bend:
        """The other side of the same line."""
        return Bend(self.spine[::-1], -self.inward, self.round)

    @cached_property
    def rings(self) -> Rings:
        """All that lies on the good side, to far beyond every canvas."""
        first, last = self.spine[0], self.spine[-1]
        start, end = direction(self.spine[1], first), direction(self.spine[-2], last)
        line = (_beyond(first, start), *self.spine[1:-1], _beyond(last, end))
        behind = [_beyond(first, _right(direction(first, last), 4))]
        if start[0] * end[1] - start[1] * end[0] > 0:  # it turns to the left, and behind is much
            corners = _right(end), _right(direction(first, self.spine[1]))
            behind = [_beyond(line[-1], corners[0]), *behind, _beyond(line[0], corners[1])]
        return moved((*line, *behind), [self.inward] * (len(line) - 1) + [0.0] * (len(behind) + 1))

    def reach(self, points: Points) -> tuple[float, float]:
        """From where to where corners lie on the line; two equal numbers if they do not.

        Measured along the spine from its middle.
        """
        found = self.on_it(points)
        half = sum(hypot(q[0] - p[0], q[1] - p[1]) for p, q in pairwise(self.spine)) / 2
        return (found[0][0] - half, found[-1][0] - half) if found else (0.0, 0.0)

    def on_it(self, points: Points) -> list[tuple[float, Point]]:
        """The corners that lie on the line, each behind its place along the spine, in order."""
        if not points:
            return []
        import numpy as np  # here, for most pages have no bent lines and should not wait for it

        spine = np.array(self.spine)
        steps = np.diff(spine, axis=0)
        lengths = np.hypot(steps[:, 0], steps[:, 1])
        (ux, uy), starts = (steps / lengths[:, None]).T, np.cumsum(lengths) - lengths
        x, y = (np.array(points)[:, None] - spine[None, :-1]).transpose(2, 0, 1)
        along, inward = x * ux + y * uy, y * ux - x * uy
        slack = ON_IT + 4 * abs(self.inward)  # beside a corner a line is longer than the spine
        found = abs(inward - self.inward) < ON_IT
        found &= (-slack < along) & (along < lengths + slack)
        at = {points[i]: float(starts[k] + along[i, k]) for i, k in np.argwhere(found)}
        return sorted((along, point) for point, along in at.items())


def arc(start: Point, end: Point, off: float) -> Points:
    """An arc of a circle by chords, its middle so many pixels to the left of the straight line.

    The circle goes on beyond the ends, by a quarter of the line. The same from either end.
    """
    length = hypot(end[0] - start[0], end[1] - start[1])
    radius = (length**2 / 4 + off**2) / (2 * abs(off))
    half = asin(min(1.0, length / 2 / radius))
    whole = half + length / 4 / radius
    count = 2 * ceil(whole / 2 / sqrt(2 * FLAT / radius))  # chords; a sagitta is r (1 - cos a/2)
    ux, uy = direction(start, end)
    middle = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
    points = []
    for k in range(count + 1):
        turn = whole * (2 * k - count) / count
        along, away = radius * sin(turn), radius * (cos(turn) - cos(half))
        away = away if off > 0 else -away
        points.append((middle[0] + ux * along + uy * away, middle[1] + uy * along - ux * away))
    return tuple(points)


def _beyond(point: Point, way: Point) -> Point:
    return point[0] + way[0] * BEYOND, point[1] + way[1] * BEYOND


def _right(way: Point, times: int = 1) -> Point:
    """The direction on the right hand of one who goes in a direction."""
    return -way[1] * times, way[0] * times
