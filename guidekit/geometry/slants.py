"""Slanted gutters: a gutter turns about its middle and keeps its width, measured across it."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, hypot
from typing import NamedTuple

from guidekit.errors import InputError, Problem
from guidekit.geometry.divide import Span
from guidekit.geometry.region import Region
from guidekit.issue.tree import Axis, Split
from guidekit.plane.box import Box
from guidekit.plane.polygon import Points, Side, area, clip_all


class SlantedGutter(NamedTuple):
    """The two edges of a gutter: the limit of the part before it, and of the part behind it."""

    before: Side
    behind: Side


def slanted_gutters(
    node: Split, parts: Sequence[Span], region: Region, dpi: int
) -> list[SlantedGutter | None]:
    """For each gap of a split its two edges if it is slanted, else None.

    `parts` are where the parts of the region's box begin and end, as if nothing were slanted.
    Raises `InputError` where neighbours would cross in the region.
    """
    if not any(node.slants):
        return [None] * (len(parts) - 1)
    box = region.box
    along = box.height if node.axis == "across" else box.width
    gutters: list[SlantedGutter] = []
    straight: list[bool] = []
    reach: list[tuple[float, float]] = []  # where each edge of a gutter meets the box's ends
    for slant, ((_, end), (begin, _)) in zip(node.slants, pairwise(parts), strict=True):
        lean = slant.px(along, dpi) if slant else 0.0
        middle, gap = (end + begin) / 2, begin - end
        half = gap / 2 * hypot(1, lean / along)
        reach += [(middle - half + lean / 2, middle - half - lean / 2)]
        reach += [(middle + half + lean / 2, middle + half - lean / 2)]
        gutters.append(_leaning(node.axis, box, middle, lean, gap))
        straight.append(not lean)
    if all(straight):
        return [None] * len(gutters)
    _check_order(node, parts, reach, box)
    _check_crossing(node, gutters, region.points)
    return [None if level else g for level, g in zip(straight, gutters, strict=True)]


def _leaning(axis: Axis, box: Box, middle: float, lean: float, gap: int) -> SlantedGutter:
    along = box.height if axis == "across" else box.width
    length = hypot(along, lean)
    if axis == "across":  # leans to the right at its top
        a, b = along / length, lean / length
        c = a * middle + b * (box.top + box.bottom) / 2
    else:  # falls to the right
        a, b = -lean / length, along / length
        c = a * (box.left + box.right) / 2 + b * middle
    return SlantedGutter(Side(a, b, c - gap / 2), Side(-a, -b, -c - gap / 2))


def _check_order(
    node: Split, parts: Sequence[Span], reach: Sequence[tuple[float, float]], box: Box
) -> None:
    """Every part has at least a pixel at both ends of its slanted sides; raises `InputError`."""
    across = node.axis == "across"
    low, high = (box.left, box.right) if across else (box.top, box.bottom)
    edges = [(low, low), *reach, (high, high)]
    for number, (begin, end) in enumerate(parts, 1):
        near, far = edges[2 * number - 2], edges[2 * number - 1]
        room = min(b - a for a, b in zip(near, far, strict=True))
        if room < 1:
            came = (
                f"part {number} is {end - begin} px {'wide' if across else 'tall'}, and the "
                "gutters beside it lean so far that they take "
                f"{ceil(end - begin - room)} px of that at one end"
            )
            raise _too_slanted(node, came)


def _check_crossing(node: Split, gutters: Sequence[SlantedGutter], region: Points) -> None:
    """No two gutters of a split meet anywhere in what it fills; raises `InputError`."""
    for number, (left, right) in enumerate(pairwise(gutters), 2):
        both = clip_all(region, (left.behind.flipped(), right.before.flipped()))
        if len(both) > 2 and area(both) > 1e-6:
            raise _too_slanted(node, f"the gutters on both sides of part {number} would cross")


def _too_slanted(node: Split, came: str) -> InputError:
    allowed = "slants that leave every part at least 1 px at both ends"
    todo = "Lean the gutters less, or give that part a larger share."
    return InputError(Problem((*node.key, node.slant_name), came, allowed, todo))
