"""Horizon, vanishing points and rays in a box, and equal division in perspective.

Coordinates are canvas pixels. Along a line that runs to a vanishing point v, equal steps in depth
lie where 1 / (x − v) takes equal steps; the crossed diagonals of a wall find the same places.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from math import cos, radians, sin

from guidekit.errors import InputError, Key, Problem
from guidekit.issue.models.panel import Perspective, Wall
from guidekit.plane.box import Box
from guidekit.plane.line import Line, cut_line
from guidekit.plane.polygon import Point

FARTHEST = 200  # a vanishing point lies at most so many box widths or heights away


@dataclass(frozen=True)
class PerspectiveLines:
    """The lines of one perspective, cut to its box; `step` is the angle between rays in degrees."""

    box: Box
    points: tuple[Point, ...]
    step: float
    horizon: tuple[Line, ...]
    wall: tuple[Line, ...] = ()

    @cached_property
    def rays(self) -> tuple[Line, ...]:
        """The lines through every point, worked out where they are drawn: they may be thousands."""
        return tuple(ray for point in self.points for ray in _rays(point, self.step, self.box))


def view_in(box: Box, given: Perspective, dpi: int, key: Key) -> PerspectiveLines:
    """The perspective of a panel or page, to which `key` leads; raises `InputError`."""
    horizon = float(given.horizon.px(box.top, box.height, dpi))
    points = [(float(at.px(box.left, box.width, dpi)), horizon) for at in given.points]
    if given.third:
        x, y = given.third
        points.append(
            (float(x.px(box.left, box.width, dpi)), float(y.px(box.top, box.height, dpi)))
        )
    _check_points(points, bool(given.third), box, horizon, key)
    level = cut_line(((box.left, horizon), (box.right, horizon)), box)
    wall = _wall(given.wall, points, box, dpi, key) if given.wall else ()
    return PerspectiveLines(
        box, tuple(points), float(given.rays), (level,) if level else (), tuple(wall)
    )


def _check_points(points: list[Point], third: bool, box: Box, horizon: float, key: Key) -> None:
    problems = []
    for number, (x, y) in enumerate(points, 1):
        if max(abs(x - box.left) / box.width, abs(y - box.top) / box.height) > FARTHEST:
            came = f"vanishing point {number} lies {x:.0f}, {y:.0f} px away, as good as nowhere"
            allowed = f"at most {FARTHEST} times the width or height away"
            todo = f"Leave it out for lines that never meet, or put it {allowed}."
            problems.append(Problem((*key, "points"), came, allowed, todo))
    if len(points) > 1 and points[0] == points[1]:
        came = "both vanishing points are the same"
        problems.append(Problem((*key, "points"), came, "two places"))
    if third and points[-1][1] == horizon:
        came = "the third vanishing point lies on the horizon"
        allowed = "a place above or below the horizon"
        todo = f"Write {allowed}; a second point on the horizon stands in points."
        problems.append(Problem((*key, "third"), came, allowed, todo))
    if problems:
        raise InputError(problems)


def _rays(point: Point, step: float, box: Box) -> Iterator[Line]:
    """Lines through a point at every `step` degrees, cut to the box."""
    x, y = point
    far = 2.0 * (abs(x - box.left) + abs(y - box.top) + box.width + box.height)
    angle = 0.0
    while angle < 180 - 1e-9:
        dx, dy = cos(radians(angle)) * far, sin(radians(angle)) * far
        if line := cut_line(((x - dx, y - dy), (x + dx, y + dy)), box):
            yield line
        angle += step


def divided(near: float, far: float, vanishing: float, parts: int) -> list[float]:
    """Where `parts` equal depths lie between `near` and `far`, both ends included."""
    a, b = 1 / (near - vanishing), 1 / (far - vanishing)
    return [vanishing + 1 / (a + (b - a) * k / parts) for k in range(parts + 1)]


def _wall(wall: Wall, points: list[Point], box: Box, dpi: int, key: Key) -> Iterator[Line]:
    vx, vy = points[wall.point - 1]
    near, far = (float(at.px(box.left, box.width, dpi)) for at in (wall.near, wall.far))
    top, bottom = (float(at.px(box.top, box.height, dpi)) for at in (wall.top, wall.bottom))
    if top >= bottom or (far - vx) * (near - vx) <= 0 or abs(far - vx) >= abs(near - vx):
        came = "this wall does not run from its near edge toward the vanishing point"
        allowed = "top above bottom, and far between near and the vanishing point"
        raise InputError(Problem((*key, "wall"), came, allowed, f"Move its edges: {allowed}."))

    def edge(x: float) -> tuple[Point, Point]:
        """The upright at x, between the lines from the near edge to the vanishing point."""
        t = (x - near) / (vx - near)
        return (x, top + (vy - top) * t), (x, bottom + (vy - bottom) * t)

    uprights = [edge(x) for x in divided(near, far, vx, wall.parts)]
    lines: list[Line] = [*uprights]
    (first_top, first_bottom), (last_top, last_bottom) = uprights[0], uprights[-1]
    lines += [(first_top, last_top), (first_bottom, last_bottom)]
    lines += [(first_top, last_bottom), (first_bottom, last_top)]
    for line in lines:
        if inside := cut_line(line, box):
            yield inside
