"""Slanted gutters: a gutter turns about its middle and keeps its width, measured across it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

from guidekit.errors import InputError, Problem
from guidekit.issue.tree import Axis, Split
from guidekit.plane.box import Box
from guidekit.plane.polygon import Points, Side, area, clip_all

Line = tuple[Side, Side]  # the limit of the part before a gutter, and of the part behind it


def gutter_lines(
    node: Split,
    parts: Sequence[tuple[int, int]],
    gaps: Sequence[int],
    box: Box,
    region: Points,
    dpi: int,
) -> list[Line | None]:
    """For each gap of a split its two edges if it is slanted, else None.

    `parts` are where the parts of `box` begin and end, as if nothing were slanted; `region` is
    what the split really fills. Raises `InputError` where neighbours would cross in it.
    """
    along = box.height if node.axis == "across" else box.width
    lines: list[Line | None] = []
    reach: list[tuple[float, float]] = []  # where each edge of a gutter meets the box's ends
    for i, gap in enumerate(gaps):
        slant = node.slants[i] if node.slants else None
        lean = slant.px(along, dpi) if slant else 0.0
        middle = (parts[i][1] + parts[i + 1][0]) / 2
        half = gap / 2 * hypot(1, lean / along)
        reach += [(middle - half + lean / 2, middle - half - lean / 2)]
        reach += [(middle + half + lean / 2, middle + half - lean / 2)]
        lines.append(_edges(node.axis, box, middle, lean, along, gap) if lean else None)
    if any(lines):
        _check_order(node, box, reach)
        every = [
            line or _edges(node.axis, box, (parts[i][1] + parts[i + 1][0]) / 2, 0.0, along, gaps[i])
            for i, line in enumerate(lines)
        ]
        _check_crossing(node, every, region)
    return lines


def _edges(axis: Axis, box: Box, middle: float, lean: float, along: int, gap: int) -> Line:
    length = hypot(along, lean)
    if axis == "across":  # leans to the right at its top
        a, b = along / length, lean / length
        c = a * middle + b * (box.top + box.bottom) / 2
    else:  # falls to the right
        a, b = -lean / length, along / length
        c = a * (box.left + box.right) / 2 + b * middle
    return Side(a, b, c - gap / 2), Side(-a, -b, -c - gap / 2)


def _check_order(node: Split, box: Box, reach: list[tuple[float, float]]) -> None:
    """Every part has at least a pixel at both ends of its slanted sides; raises `InputError`."""
    low, high = (box.left, box.right) if node.axis == "across" else (box.top, box.bottom)
    edges = [(low, low), *reach, (high, high)]
    for i in range(0, len(edges), 2):
        room = max(0.0, min(b - a for a, b in zip(edges[i], edges[i + 1], strict=True)))
        if room < 1:
            raise InputError(
                Problem(
                    f"{node.place}.slants",
                    f"part {i // 2 + 1} would be {room:.1f} px wide at one end",
                    "slants that leave every part at least 1 px at both ends",
                    "Lean the gutters less, or give that part a larger share.",
                )
            )


def _check_crossing(node: Split, lines: Sequence[Line], region: Points) -> None:
    """No two gutters of a split meet anywhere in what it fills; raises `InputError`."""
    for number, ((_, left), (right, _)) in enumerate(pairwise(lines), 2):
        both = clip_all(region, (left.flipped(), right.flipped()))
        if len(both) > 2 and area(both) > 1e-6:
            raise InputError(
                Problem(
                    f"{node.place}.slants",
                    f"the gutters on both sides of part {number} would cross",
                    "slants that leave every part at least 1 px at both ends",
                    "Lean the gutters less, or give that part a larger share.",
                )
            )
