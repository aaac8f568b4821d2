"""Corners of polygons that are stepped in or rounded."""

from __future__ import annotations

from collections.abc import Callable
from math import acos, ceil, cos, hypot, sin

from guidekit.plane.polygon import Point, Points, area


def stepped_in(
    points: Points, length: float, steps: bool, sharp: Callable[[Point], bool]
) -> Points:
    """The polygon with corners cut off, or stepped in along both sides; () if one has no room.

    `length` is measured along each side from the corner; those that are `sharp` stay.
    """
    result: list[Point] = []
    for i, (x, y) in enumerate(points):
        if sharp((x, y)):
            result.append((x, y))
            continue
        toward = [points[i - 1], points[(i + 1) % len(points)]]
        (ux, uy), (vx, vy) = ((px - x, py - y) for px, py in toward)
        u, v = hypot(ux, uy), hypot(vx, vy)
        if 2 * length >= min(u, v):
            return ()
        ux, uy, vx, vy = (at * length / long for at, long in ((ux, u), (uy, u), (vx, v), (vy, v)))
        result.append((x + ux, y + uy))
        if steps:
            result.append((x + ux + vx, y + uy + vy))
        result.append((x + vx, y + vy))
    return tuple(result)


def rounded(
    points: Points, radius: float, sharp: Callable[[Point], bool], dents: float | None = None
) -> Points:
    """The polygon with circular corners, but for those that are `sharp`; () if one has no room.

    Corners that point inward have the radius `dents`, by default the same. An arc is drawn by
    chords that leave it by no more than a fiftieth of a pixel.
    """
    result: list[Point] = []
    count = len(points)
    for i, corner in enumerate(points):
        before, after = points[i - 1], points[(i + 1) % count]
        own = radius
        if dents is not None and area((before, corner, after)) < 0:
            own = dents
        if sharp(corner) or not own:
            result.append(corner)
            continue
        arc = _arc(before, corner, after, own)
        if not arc:
            return ()
        result += arc
    return tuple(result)


def _arc(before: Point, corner: Point, after: Point, radius: float) -> list[Point]:
    ux, uy = before[0] - corner[0], before[1] - corner[1]
    vx, vy = after[0] - corner[0], after[1] - corner[1]
    u, v = hypot(ux, uy), hypot(vx, vy)
    ux, uy, vx, vy = ux / u, uy / u, vx / v, vy / v
    angle = acos(max(-1.0, min(1.0, ux * vx + uy * vy)))
    along = radius * cos(angle / 2) / sin(angle / 2)  # from the corner to where the arc begins
    if along > min(u, v) / 2 + 1e-6:
        return []
    bx, by = ux + vx, uy + vy
    b = hypot(bx, by)
    far = radius / sin(angle / 2)
    mx, my = corner[0] + bx / b * far, corner[1] + by / b * far
    sx, sy = corner[0] + ux * along - mx, corner[1] + uy * along - my
    sweep = acos(-1) - angle
    chords = max(1, ceil(sweep / (2 * acos(max(-1.0, 1 - 0.02 / max(radius, 0.02))))))
    turn = 1 if sx * (vy * along + corner[1] - my) - sy * (vx * along + corner[0] - mx) > 0 else -1
    return [
        (
            mx + sx * cos(t) - sy * sin(t),
            my + sx * sin(t) + sy * cos(t),
        )
        for t in (turn * sweep * k / chords for k in range(chords + 1))
    ]
