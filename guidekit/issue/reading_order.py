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
    return _cut([*areas], backward, tiers=True)


def _cut(areas: Areas, backward: bool, *, tiers: bool, tried: bool = False) -> list[str]:
    """The letters of areas cut into tiers or columns; `tried` says that the other cannot be."""
    if len(areas) == 1:
        return [areas[0][0]]
    groups = _apart(areas, tiers)
    if len(groups) == 1 and tried:  # no straight cut either way

        def place(item: tuple[str, CellRange]) -> tuple[int, int]:
            left, top, right, _ = item[1]
            return top, -right if backward else left

        return [letter for letter, _ in sorted(areas, key=place)]
    if not tiers and backward:
        groups.reverse()
    single = len(groups) == 1
    return [x for group in groups for x in _cut(group, backward, tiers=not tiers, tried=single)]


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
