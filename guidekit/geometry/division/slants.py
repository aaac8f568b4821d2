"""Slanted gutters: a gutter turns about its middle and keeps its width, measured across it."""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import replace
from itertools import pairwise
from math import ceil, hypot

from guidekit.errors import InputError, Problem
from guidekit.geometry.division.leaning import ENDS, Lean, leaning, room
from guidekit.geometry.division.region import MOST_MET, Region, SlantedGutter
from guidekit.issue.tree import Axis, Split
from guidekit.plane.box import Box
from guidekit.plane.cells import Span
from guidekit.plane.cuts import Cut
from guidekit.plane.polygon import HalfPlane, Points, area, clip_all

NEAR = 1e-6  # px by which rounding may part what meets in a point


def slanted_gutters(
    node: Split, parts: Sequence[Span], region: Region, dpi: int
) -> list[SlantedGutter | None]:
    """For each gap of a split its edges if it is slanted or bent, else None.

    `parts` are where the parts of the region's box begin and end, as if nothing were slanted.
    Raises `InputError` where neighbours would cross in the region.
    """
    if not any(node.slants) and not any(node.bends):
        return [None] * (len(parts) - 1)
    none = (None,) * (len(parts) - 1)
    slants, bends, box = node.slants or none, node.bends or none, region.box
    along = box.height if node.axis == "across" else box.width
    leans = [
        Lean(
            (end + begin) / 2,
            begin - end,
            along,
            slant.px(along, dpi) if slant else 0.0,
            slant.corner if slant else 0,
        )
        for slant, ((_, end), (begin, _)) in zip(slants, pairwise(parts), strict=True)
    ]
    low, high = (box.left, box.right) if node.axis == "across" else (box.top, box.bottom)
    to_corner = [i for i, lean in enumerate(leans) if lean.corner]
    pointed = {part for i in to_corner for part in (i, i + 1)}
    leans = leaning(leans, low, high)
    if not any(lean.lean for lean in leans) and not any(bends):
        return [None] * len(leans)
    _check_order(node, parts, leans, pointed, low, high)
    edges = [_edges(node.axis, box, lean) for lean in leans]
    if any(bends):
        from guidekit.geometry.division.bends import bent_gutters  # few pages have them

        gutters = bent_gutters(node, leans, edges, region, dpi)
        return [
            g if lean.lean or bend else None
            for lean, bend, g in zip(leans, bends, gutters, strict=True)
        ]
    _check_crossing(node, edges, region.points, pointed)
    gutters = [SlantedGutter((before,), (behind,)) for before, behind in edges]
    for part in range(1, len(leans)):
        for end in ENDS:
            gutters[part - 1 : part + 1] = _parted(node.axis, gutters, leans, part, end)
    gutters = _beyond_the_next(gutters, edges)
    return [g if lean.lean else None for lean, g in zip(leans, gutters, strict=True)]


def _beyond_the_next(
    gutters: Sequence[SlantedGutter], edges: Sequence[tuple[Cut, Cut]]
) -> list[SlantedGutter]:
    """Gutters that end parts at those further on as well, which they may meet beyond the frame."""
    found = []
    for i, gutter in enumerate(gutters):
        before = (one for one, _ in edges[i + 2 : i + MOST_MET])
        behind = (other for _, other in edges[max(i + 1 - MOST_MET, 0) : i][:-1])
        found.append(SlantedGutter((*gutter.before, *before), (*gutter.behind, *behind)))
    return found


def _edges(axis: Axis, box: Box, lean: Lean) -> tuple[HalfPlane, HalfPlane]:
    """The limits of the part before a gutter, and of the part behind it."""
    length = hypot(lean.along, lean.lean)
    if axis == "across":  # leans to the right at its top
        a, b = lean.along / length, lean.lean / length
        c = a * lean.middle + b * (box.top + box.bottom) / 2
    else:  # falls to the right
        a, b = -lean.lean / length, lean.along / length
        c = a * (box.left + box.right) / 2 + b * lean.middle
    half = lean.gap / 2
    return HalfPlane(a, b, c - half), HalfPlane(-a, -b, -c - half)


def _parted(
    axis: Axis, gutters: Sequence[SlantedGutter], leans: Sequence[Lean], part: int, end: int
) -> tuple[SlantedGutter, SlantedGutter]:
    """The gutters beside a part, so that its neighbours do not meet where it has ended in a point.

    They might where the page runs out to the bleed; there a straight gutter parts them.
    """
    first, last = leans[part - 1], leans[part]
    before, behind = gutters[part - 1], gutters[part]
    width, other = (last.at(x)[0] - first.at(x)[1] for x in (end, -end))
    if other - width < NEAR:
        return before, behind  # they part toward this end, or are parallel
    point = first.at(end)[1] + end * first.lean * width / (other - width)
    over = first.lean * end > 0, last.lean * end < 0
    half = max(first.gap, last.gap) / 2 if all(over) else 0.0
    a, b = (1.0, 0.0) if axis == "across" else (0.0, 1.0)
    if over[0]:
        before = replace(before, before=(*before.before, HalfPlane(a, b, point - half)))
    if over[1]:
        behind = replace(behind, behind=(*behind.behind, HalfPlane(-a, -b, -point - half)))
    return before, behind


def _check_order(
    node: Split,
    parts: Sequence[Span],
    leans: Sequence[Lean],
    pointed: Set[int],
    low: int,
    high: int,
) -> None:
    """Every part has at least a pixel at both ends of its slanted sides; raises `InputError`.

    One that may be `pointed` has it at one of them.
    """
    for part, (begin, end) in enumerate(parts):
        rooms = [room(leans, part, side, low, high) for side in ENDS]
        least = max(rooms) if part in pointed and min(rooms) > -NEAR else min(rooms)
        if least < 1:
            long = "wide" if node.axis == "across" else "tall"
            came = (
                f"part {part + 1} is {end - begin} px {long}, "
                "and the gutters beside it lean so far that they take "
                f"{ceil(end - begin - least)} px of that at one end"
            )
            raise _too_slanted(node, came)


def _check_crossing(
    node: Split, gutters: Sequence[tuple[HalfPlane, HalfPlane]], region: Points, pointed: Set[int]
) -> None:
    """No two gutters of a split meet anywhere in what it fills; raises `InputError`.

    Those beside a part that may be `pointed` do.
    """
    for part, ((_, behind), (before, _)) in enumerate(pairwise(gutters), 1):
        if part in pointed:
            continue
        both = clip_all(region, (behind.flipped(), before.flipped()))
        if len(both) > 2 and area(both) > 1e-6:
            raise _too_slanted(node, f"the gutters on both sides of part {part + 1} would cross")


def _too_slanted(node: Split, came: str) -> InputError:
    allowed = "slants that leave every part at least 1 px at both ends"
    todo = "Lean the gutters less, or give that part a larger share."
    return InputError(Problem((*node.key, node.slant_name), came, allowed, todo))
