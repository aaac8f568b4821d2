"""Tiers and columns, or a map, from where panels lie."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Any

from guidekit.errors import InputError, Problem
from guidekit.issue.tree import Axis
from guidekit.plane.box import Box
from guidekit.planner.edits.contents import LETTERS, LISTS
from guidekit.planner.edits.lengths import length_of
from guidekit.planner.edits.spots import Values

MOST_TRACKS = 24


@dataclass(frozen=True)
class Units:
    """In which unit lengths are written, and how many pixels an inch has."""

    name: str
    dpi: int


def content_of_boxes(boxes: Sequence[Box], before: Sequence[Box], units: Units) -> Values:
    """What fills a part so that its panels lie in these boxes, with gutters between them.

    `before` are the boxes from which they were joined: where those stand in rows and columns, the
    result is a map of them, so that edges stay in line with others. Raises `InputError` where
    neither tiers nor columns nor a map can say it.
    """
    if len(boxes) == 1:
        return {"panels": 1}
    if found := _even_map(boxes, before):
        return found
    for axis in ("down", "across"):
        groups = _cut(boxes, axis)
        if len(groups) > 1:
            return _listed(groups, before, axis, units)
    raise InputError(
        Problem((), "no straight gutter is left that runs through", todo="Join other panels.")
    )


def _even_map(boxes: Sequence[Box], before: Sequence[Box]) -> Values | None:
    """A map of equal tracks; None if the boxes before do not stand in such."""
    xs = _tracks([(box.left, box.right) for box in before])
    ys = _tracks([(box.top, box.bottom) for box in before])
    if not xs or not ys or len(xs) > MOST_TRACKS or len(ys) > MOST_TRACKS:
        return None
    if len(boxes) == len(before) or not (_equal(xs) and _equal(ys)):
        return None
    rows = [["."] * len(xs) for _ in ys]
    ordered = sorted(boxes, key=lambda box: (box.top, box.left))
    for letter, box in zip(LETTERS, ordered, strict=False):
        for y, (top, bottom) in enumerate(ys):
            for x, (left, right) in enumerate(xs):
                if not box.clipped(Box(left, top, right, bottom)).is_empty:
                    rows[y][x] = letter
    return {"map": "".join(f"{' '.join(row)}\n" for row in rows)}


def _tracks(spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans side by side that all given ones begin and end with; none if they overlap."""
    begins, ends = sorted({a for a, _ in spans}), sorted({b for _, b in spans})
    if len(begins) != len(ends):
        return []
    tracks = [*zip(begins, ends, strict=True)]
    sound = all(a < b for a, b in tracks) and all(b <= c for (_, b), (c, _) in pairwise(tracks))
    gaps = {c - b for (_, b), (c, _) in pairwise(tracks)}
    return tracks if sound and len(gaps) <= 1 else []


def _equal(spans: Sequence[tuple[int, int]]) -> bool:
    sizes = [b - a for a, b in spans]
    return max(sizes) - min(sizes) <= 1


def _cut(boxes: Sequence[Box], axis: Axis) -> list[list[Box]]:
    """The boxes in groups between which a straight gutter runs through."""
    low, high = ("left", "right") if axis == "across" else ("top", "bottom")
    groups: list[list[Box]] = []
    reach = 0
    for box in sorted(boxes, key=lambda box: int(getattr(box, low))):
        if not groups or getattr(box, low) >= reach:
            groups.append([])
        groups[-1].append(box)
        reach = max(reach, getattr(box, high))
    return groups


def _listed(groups: list[list[Box]], before: Sequence[Box], axis: Axis, units: Units) -> Values:
    name, sizes = LISTS[axis]
    low, high = ("left", "right") if axis == "across" else ("top", "bottom")
    spans = [
        (min(getattr(box, low) for box in group), max(getattr(box, high) for box in group))
        for group in groups
    ]
    entries: list[Any] = []
    for group, (begin, end) in zip(groups, spans, strict=True):
        inside = [box for box in before if begin <= getattr(box, low) < end]
        content = content_of_boxes(group, inside, units)
        entries.append(_short(content, axis))
    values: Values = {name: entries}
    shares = _shares([end - begin for begin, end in spans], units)
    return values | ({sizes: shares} if shares else {})


def _short(content: Values, axis: Axis) -> Any:
    """A number where equal panels stand across the list that they are in."""
    other, _ = LISTS["down" if axis == "across" else "across"]
    if set(content) == {"panels"}:
        return content["panels"]
    if set(content) == {other} and all(entry == 1 for entry in content[other]):
        return len(content[other])
    return content


def _shares(sizes: Sequence[int], units: Units) -> list[Any]:
    """Nothing for equal sizes, small weights where they say it, else lengths and one weight."""
    if max(sizes) - min(sizes) <= 1:
        return []
    total = sum(sizes)
    for parts in range(len(sizes) + 1, 13):
        weights = [round(Fraction(size * parts, total)) for size in sizes]
        if sum(weights) == parts and all(
            abs(size - Fraction(weight * total, parts)) <= 1
            for size, weight in zip(sizes, weights, strict=True)
        ):
            return weights
    largest = max(range(len(sizes)), key=lambda i: sizes[i])
    return [
        1 if i == largest else str(length_of(size, units.name, units.dpi))
        for i, size in enumerate(sizes)
    ]
