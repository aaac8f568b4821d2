"""Straight lines between two points, cut to a box."""

from __future__ import annotations

from guidekit.plane.box import Box
from guidekit.plane.polygon import Point

Line = tuple[Point, Point]


def cut_line(line: Line, box: Box) -> Line | None:
    """The part of a line inside a box (Liang and Barsky, 1984), if any."""
    (x0, y0), (x1, y1) = line
    dx, dy = x1 - x0, y1 - y0
    low, high = 0.0, 1.0
    for p, q in ((-dx, x0 - box.left), (dx, box.right - x0), (-dy, y0 - box.top),
                 (dy, box.bottom - y0)):  # fmt: skip
        if p == 0:
            if q < 0:
                return None
        elif p < 0:
            low = max(low, q / p)
        else:
            high = min(high, q / p)
    if low >= high:
        return None
    return (x0 + dx * low, y0 + dy * low), (x0 + dx * high, y0 + dy * high)
