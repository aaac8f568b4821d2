"""Gutters that bend: in arcs and from point to point, as wide everywhere, measured across."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import hypot

from guidekit.errors import InputError, Key, Problem
from guidekit.geometry.division.leaning import Lean
from guidekit.geometry.division.region import Region, SlantedGutter
from guidekit.issue.models.bending import Bending
from guidekit.issue.tree import Axis, Split
from guidekit.plane.bend import Bend, arc
from guidekit.plane.box import Box
from guidekit.plane.cuts import Cut, cut_out
from guidekit.plane.polygon import HalfPlane, Points, direction
from guidekit.plane.rings import whole_area

DEEPEST = 4  # an arc lies no further off than the length of its line divided by this
SHARPEST = -0.87  # cosine of the angle by which a bend may turn: 150 degrees


def bent_gutters(
    node: Split,
    leans: Sequence[Lean],
    straight: Sequence[tuple[HalfPlane, HalfPlane]],
    region: Region,
    dpi: int,
) -> list[SlantedGutter]:
    """The gutters of a split, bent ones in place of the straight ones; raises `InputError`.

    Beyond the frame each part ends at the next but one as well, which it may meet there.
    """
    key = (*node.key, node.bend_name)
    own: list[tuple[Cut, Cut]] = []
    for bending, lean, gutter in zip(node.bends, leans, straight, strict=True):
        if bending:
            spine = _spine(node.axis, region.box, lean, bending, dpi, key)
            line = spine if node.axis == "across" else spine[::-1]
            middle = Bend(line, round=bending.offset is not None)
            own.append((middle.moved(lean.gap / 2), middle.flipped().moved(lean.gap / 2)))
        else:
            own.append(gutter)
    _check(own, region, key)
    return [
        SlantedGutter(
            (before, *(x for x, _ in own[i + 1 : i + 2])),
            (behind, *(x for _, x in own[max(i - 1, 0) : i])),
        )
        for i, (before, behind) in enumerate(own)
    ]


def _spine(axis: Axis, box: Box, lean: Lean, bending: Bending, dpi: int, key: Key) -> Points:
    """The middle of a gutter from its upper or left end."""
    if axis == "across":
        start = lean.middle + lean.lean / 2, float(box.top)
        end = lean.middle - lean.lean / 2, float(box.bottom)
    else:
        start = float(box.left), lean.middle - lean.lean / 2
        end = float(box.right), lean.middle + lean.lean / 2
    length = hypot(end[0] - start[0], end[1] - start[1])
    if bending.offset:
        off = float(bending.offset.px(0, round(length), dpi))
        if abs(off) > length / DEEPEST:
            came = f"this bends {abs(off):.0f} px off a line of {length:.0f} px"
            raise InputError(Problem(key, came, f"at most {length / DEEPEST:.0f} px"))
        return arc(start, end, off if axis == "across" else -off)
    x, y = direction(start, end)
    right = (y, -x) if axis == "across" else (-y, x)  # or down
    spine = tuple(
        (start[0] + x * along + right[0] * off, start[1] + y * along + right[1] * off)
        for along, off in _places(bending, length, dpi, key)
    )
    ways = [direction(p, q) for p, q in pairwise(spine)]
    if any(a[0] * b[0] + a[1] * b[1] < SHARPEST for a, b in pairwise(ways)):
        came, allowed = "this bend turns back too sharply", "turns of at most 150 degrees"
        todo = "Move its points apart, or nearer to the line."
        raise InputError(Problem(key, came, allowed, todo))
    return spine


def _places(bending: Bending, length: float, dpi: int, key: Key) -> list[tuple[float, float]]:
    """Where the points of a bend lie along a line and off it, with both ends of the line."""
    whole = round(length)
    found = [
        (float(along.px(0, whole, dpi)), float(off.px(0, whole, dpi)))
        for along, off in bending.points
    ]
    if bending.backward:
        found = [(length - along, off) for along, off in found[::-1]]
    if found[0][0] >= 1:
        found.insert(0, (0.0, 0.0))
    if found[-1][0] <= length - 1:
        found.append((length, 0.0))
    if found[0][0] < -1 or found[-1][0] > length + 1:
        came = f"a point of this bend lies beyond the ends of its line of {length:.0f} px"
        raise InputError(Problem(key, came, 'places from "0 %" to "100 %" along it'))
    if any(after[0] - before[0] < 1 for before, after in pairwise(found)):
        came, allowed = "the points of this bend do not go on along its line", "points in order"
        raise InputError(Problem(key, came, allowed, "Write them in order, a pixel or more apart."))
    return found


def _check(own: Sequence[tuple[Cut, Cut]], region: Region, key: Key) -> None:
    """Every part is in one piece, and no two gutters meet; raises `InputError`."""
    for part in range(len(own) + 1):
        cuts = [x for _, x in own[max(part - 1, 0) : part]] + [x for x, _ in own[part : part + 1]]
        both = [cut.flipped() for cut in cuts] if len(cuts) > 1 else []
        found = cut_out((region.points,), cuts)
        came = ""
        if both and whole_area(cut_out((region.points,), both)) > 1:
            came = f"the gutters on both sides of part {part + 1} would cross"
        elif len(found) > 1:
            came = f"the gutters beside part {part + 1} divide it into {len(found)} pieces"
        elif whole_area(found) < 1:
            came = f"the gutters beside part {part + 1} leave nothing of it"
        if came:
            raise InputError(Problem(key, came, todo="Bend them less, or give it a larger share."))
