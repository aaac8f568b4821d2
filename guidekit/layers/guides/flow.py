"""Words in lines: as large as they go into a place."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from guidekit.plane.box import Box


class Flow(NamedTuple):
    """The height of capitals in pixels, and how many words stand in each line."""

    capitals: int
    lines: tuple[int, ...]


def flowed(widths: Sequence[float], gap: float, place: Box, most: int) -> Flow:
    """Words in as many lines as make them largest; of equals the fewest lines.

    `widths` of the words and the `gap` between two are given in heights of capitals, which are at
    most `most` pixels. A line takes twice their height.
    """
    best = Flow(0, (len(widths),))
    for count in range(1, len(widths) + 1):
        tallest = min(most, place.height // (2 * count))
        if tallest <= best.capitals:  # nor are they larger in more lines
            break
        limit = _narrowest(widths, gap, count)
        capitals = min(tallest, int((place.width - len(widths)) / limit))
        if capitals > best.capitals:
            best = Flow(capitals, _lines(widths, gap, limit))
    return best


def _narrowest(widths: Sequence[float], gap: float, count: int) -> float:
    """The least width into which the words go in so many lines."""
    words = range(len(widths))
    sums = sorted(sum(widths[i : j + 1]) + gap * (j - i) for i in words for j in words[i:])
    least = max(widths)
    fitting = (limit for limit in sums if limit >= least)
    return next(limit for limit in fitting if len(_lines(widths, gap, limit)) <= count)


def _lines(widths: Sequence[float], gap: float, limit: float) -> tuple[int, ...]:
    """How many words go into each line of a width, filled one after the other."""
    lines: list[int] = []
    reached = 0.0
    for width in widths:
        if lines and reached + gap + width <= limit * 1.000001:
            lines[-1] += 1
            reached += gap + width
        else:
            lines.append(1)
            reached = width
    return tuple(lines)
