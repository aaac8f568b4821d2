"""One panel divided into several; every other edge of the page stays where it is.

But in a map of unequal tracks, where new gutters take a little from all.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import lcm
from typing import Any

from guidekit.errors import InputError, Problem
from guidekit.issue.models.letter_map import read_map
from guidekit.issue.tree import Axis
from guidekit.planner.edits.contents import LETTERS, LISTS, without_contents
from guidekit.planner.edits.spots import Spot, Values, at, with_at


def divided(page: Values, spot: Spot, axis: Axis, parts: int, shares: Sequence[Any] = ()) -> Values:
    """The page with the panel at `spot` divided into `parts` along `axis`.

    `shares` are those of the parts, none for equal ones. Raises `InputError` for a panel of a map
    whose tracks are lengths.
    """
    part = at(page, spot.path)
    if spot.letter:
        changed = _of_map(part, spot.letter, axis, parts)
    elif spot.index is None:
        changed = _alone(part, spot, axis, parts, shares)
    else:
        name, _ = LISTS[spot.axis]
        inside = _row(spot.axis, axis, parts, shares)
        own = part if isinstance(part, dict) else {"panels": part}
        number = own.get("panels") or len(own.get("widths") or own["heights"])
        entries: list[Any] = [1] * number
        entries[spot.index] = inside
        rest = {key: value for key, value in own.items() if key != "panels"}
        changed = {name: entries, **rest}
    return dict(with_at(page, spot.path, changed))


def _alone(part: Any, spot: Spot, axis: Axis, parts: int, shares: Sequence[Any]) -> Any:
    own = without_contents(part)
    in_list = bool(spot.path) and spot.path[-2] in ("tiers", "columns")
    if in_list and axis == spot.axis:
        _, sizes = LISTS[axis]
        if not shares and not own:
            return parts
        return own | ({sizes: list(shares)} if shares else {"panels": parts})
    return own | _listed(axis, parts, shares)


def _row(outer: Axis, axis: Axis, parts: int, shares: Sequence[Any]) -> Any:
    """What stands for the parts in a list that lies along `outer`."""
    if outer == axis or shares:
        return _listed(axis, parts, shares)
    return parts


def _listed(axis: Axis, parts: int, shares: Sequence[Any]) -> Values:
    name, sizes = LISTS[axis]
    return {name: [1] * parts} | ({sizes: list(shares)} if shares else {})


def _of_map(part: Values, letter: str, axis: Axis, parts: int) -> Values:
    """A map with one letter in equal parts; all tracks are divided alike where they must be."""
    rows = [line.split() for line in part["map"].strip().splitlines()]
    block = read_map(part["map"]).blocks[letter]
    if block.cells:
        came = f"panel {letter} is no rectangle"
        raise InputError(Problem((), came, todo="Change the letters of the map in the file."))
    left, top, right, bottom = block.area
    span = right - left if axis == "across" else bottom - top
    times = lcm(span, parts) // span
    sizes = LISTS[axis][1]
    if times > 1 and any(isinstance(share, str) for share in part.get(sizes, ())):
        came = f"panel {letter} stands in a map whose {sizes} are lengths"
        raise InputError(Problem((), came, f"weights as {sizes}", f"Write weights as {sizes}."))
    rows = _finer(rows, axis, times)
    letters = iter([letter, *_free(rows)])
    step = span * times // parts
    for i in range(parts):
        name = next(letters)
        for x, y in _cells((left, top, right, bottom), axis, times, i * step, step):
            rows[y][x] = name
    changed = {**part, "map": "".join(f"{' '.join(row)}\n" for row in rows)}
    if sizes in part and times > 1:
        changed[sizes] = [share for share in part[sizes] for _ in range(times)]
    return changed


def _finer(rows: list[list[str]], axis: Axis, times: int) -> list[list[str]]:
    if axis == "across":
        return [[x for x in row for _ in range(times)] for row in rows]
    return [[*row] for row in rows for _ in range(times)]


def _cells(
    area: tuple[int, int, int, int], axis: Axis, times: int, begin: int, step: int
) -> list[tuple[int, int]]:
    """The places of one part of an area, in the finer map."""
    left, top, right, bottom = area
    if axis == "across":
        start = left * times + begin
        return [(x, y) for x in range(start, start + step) for y in range(top, bottom)]
    start = top * times + begin
    return [(x, y) for x in range(left, right) for y in range(start, start + step)]


def _free(rows: list[list[str]]) -> list[str]:
    used = {x for row in rows for x in row}
    return [letter for letter in LETTERS if letter not in used]
