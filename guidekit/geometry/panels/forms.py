"""Shapes of their own: corners, an ellipse, cut corners, a tilt, within a place on the page."""

from __future__ import annotations

from functools import partial
from typing import NamedTuple

from guidekit.errors import InputError, Key, Problem
from guidekit.geometry.panels.setting import Setting
from guidekit.issue.models.own_shape import OwnShape
from guidekit.issue.models.share import Position
from guidekit.plane.box import Box
from guidekit.plane.corners import rounded, stepped_in
from guidekit.plane.ellipse import Ellipse
from guidekit.plane.outline import Outline, bounds, box_of, points_of, size_of
from guidekit.plane.polygon import (
    HalfPlane,
    Point,
    Points,
    area,
    clockwise,
    corners,
    turned,
    turning,
)
from guidekit.plane.rings import clean, grown, is_simple, on_grid
from guidekit.plane.sides import moved
from guidekit.units import half_up


class Form(NamedTuple):
    """A shape: its corners before they are rounded by `radius` pixels, or those of an `ellipse`.

    `ends` are lines along which it runs out of the page; corners on them stay sharp.
    """

    sharp: Points
    radius: int = 0
    ellipse: Ellipse | None = None
    ends: tuple[HalfPlane, ...] = ()

    def outline(self) -> Outline | None:
        """The shape with its corners rounded; None if one has no room."""
        if not self.radius:
            return as_outline(self.sharp)
        points = rounded(self.sharp, self.radius, self._ends_at)
        return as_outline(points) if points else None

    def inside(self, weight: int) -> tuple[Outline, ...]:
        """What is inside a line along the edge; none at all, or several where it falls apart.

        Where it runs out of the page there is no line.
        """
        if self.ellipse:
            if weight >= min(self.ellipse.across, self.ellipse.down):
                return ()
            return clean((on_grid(self.ellipse.beside(-weight)),))
        sides = zip(self.sharp, (*self.sharp[1:], self.sharp[0]), strict=True)
        by = [-weight if self._runs_out(*side) else weight for side in sides]
        found = (turning(ring) for ring in moved(self.sharp, by))
        return tuple(as_outline(self._rounded(ring, -weight) or ring) for ring in found)

    def margin(self, gap: int) -> Outline:
        """The shape with a clear margin all round; corners stay corners, up to a limit."""
        if self.ellipse:
            return on_grid(self.ellipse.beside(gap))
        box = as_outline(self.sharp)
        larger = corners(box.inset(-gap)) if isinstance(box, Box) else self._larger(gap)
        if found := self._rounded(larger, gap):
            return as_outline(found)
        outline = rounded(self.sharp, self.radius, self._ends_at)
        return max(grown((outline,), gap), key=area)

    def _larger(self, gap: int) -> Points:
        return max(grown((self.sharp,), gap), key=area)

    def _rounded(self, points: Points, outward: int) -> Points:
        """Corners that lie so far outside those of the shape, rounded about the same middles."""
        if not self.radius:
            return points
        radius, dents = max(self.radius + outward, 0), max(self.radius - outward, 0)
        return rounded(points, radius, self._ends_at, dents)

    def _runs_out(self, begin: Point, end: Point) -> bool:
        return any(_on_any((line,), begin) and _on_any((line,), end) for line in self.ends)

    def _ends_at(self, point: Point) -> bool:
        return _on_any(self.ends, point)


def form_in(
    place: Outline, own: OwnShape, setting: Setting, key: Key, ends: tuple[HalfPlane, ...] = ()
) -> Form:
    """The shape that stands in a place; `key` leads to what the page says. Raises `InputError`."""
    if not own.points:
        check_area(place, key)
    box = box_of(place)
    left, top, right, bottom = bounds([place])
    middle = (left + right) / 2, (top + bottom) / 2
    if own.ellipse:
        ellipse = Ellipse(middle, box.width / 2, box.height / 2).tilted(float(own.tilt))
        return Form(on_grid(ellipse.beside(0)), 0, ellipse)
    points = points_of(place)
    if own.points:
        points = turning(tuple(_whole(point, box, setting) for point in own.points))
        if len(points) < 3:
            came = "these points lie on one line"
            raise InputError(
                Problem((*key, "points"), came, "points that have an area between them")
            )
        if not is_simple(points):
            came = "this shape crosses or touches itself"
            todo = "Write its corners in the order in which a pen would go round it."
            raise InputError(Problem((*key, "points"), came, todo=todo))
        points = clockwise(points)
    for name, steps in (("cut_corners", False), ("stepped_corners", True)):
        if length := getattr(own, name):
            found = stepped_in(points, setting.px(length), steps, partial(_on_any, ends))
            if not found:
                came = f"corners of {setting.px(length)} px are too large for {size_of(box)}"
                allowed = "less than half of the shortest side"
                raise InputError(Problem((*key, name), came, allowed, f"Take {allowed}."))
            points = found
    points = turning(on_grid(turned(points, middle, float(own.tilt))))
    return Form(points, setting.radius_of(own.radius), ends=ends)


def check_area(outline: Outline, key: Key) -> None:
    """A shape has at least a pixel; raises `InputError`."""
    if abs(area(points_of(outline))) < 1:
        came = f"{size_of(outline)} are less than a pixel"
        raise InputError(Problem(key, came, "a shape of at least 1 px", "Make it larger."))


def as_outline(points: Points) -> Outline:
    """A box where it is one of whole pixels, else the corners."""
    box = box_of(points)
    return box if len(points) == 4 and {*points} == {*corners(box)} else points


def _whole(point: tuple[Position, Position], box: Box, setting: Setting) -> Point:
    """A corner in whole pixels, so that level and upright sides are exact."""
    x = point[0].px(box.left, box.width, setting.dpi)
    return setting.whole_across(x), half_up(point[1].px(box.top, box.height, setting.dpi))


def _on_any(ends: tuple[HalfPlane, ...], point: Point) -> bool:
    return any(side.beyond(point) > -1e-6 for side in ends)
