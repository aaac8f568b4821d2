"""In which order the panels of a letter map are read.

It is cut into tiers where a straight cut across the whole is possible, each tier into columns, and
so on; what cannot be cut is read by its top edge, then in the book's direction.
"""

from __future__ import annotations

from collections.abc import Iterable

from guidekit.issue.models.block import CellRange

Areas = list[tuple[str, CellRange]]


def in_reading_order(areas: Iterable[tuple[str, CellRange]], backward: bool) -> list[str]:
    """The letters whose `areas` these are, none of which overlap; `backward` is from the right."""

    def place(item: tuple[str, CellRange]) -> tuple[int, int]:
        left, top, right, _ = item[1]
        return top, -right if backward else left

    found: list[str] = []
    waiting = [([*areas], True, False)]  # to cut, into tiers or not, and whether the other failed
    while waiting:
        here, tiers, tried = waiting.pop()
        groups = _apart(here, tiers)
        if len(groups) == 1 and (tried or len(here) == 1):  # no straight cut either way
            found += (letter for letter, _ in sorted(here, key=place))
            continue
        if tiers or not backward:
            groups.reverse()  # the last is the next
        waiting += ((group, not tiers, len(groups) == 1) for group in groups)
    return found


def _apart(areas: Areas, tiers: bool) -> list[Areas]:
    """The areas in groups between which a straight cut is possible, from the top or the left."""

    def span(area: CellRange) -> tuple[int, int]:
        return (area.top, area.bottom) if tiers else (area.left, area.right)

    areas = sorted(areas, key=lambda item: span(item[1])[0])
    groups, reach = [[areas[0]]], span(areas[0][1])[1]
    for item in areas[1:]:
        low, high = span(item[1])
        if low >= reach:
            groups.append([])
        groups[-1].append(item)
        reach = max(reach, high)
    return groups
