"""From what an issue writes to a tree of splits whose panels are numbered in reading order.

Reading goes tier by tier from the top, within a tier in the book's direction. A letter map is read
the same way: cut into tiers where a straight cut across the whole is possible, each tier into
columns, and so on; what cannot be cut is read by its top edge, then in the book's direction.
"""

from __future__ import annotations

from itertools import count

from guidekit.errors import InputError, Problem
from guidekit.geometry.split import Axis, Grid, Leaf, Node, Split
from guidekit.issue.layouts import layout
from guidekit.issue.letter_map import LetterMap
from guidekit.issue.model import Part
from guidekit.issue.share import EVEN, Share

Area = tuple[int, int, int, int]


def read_part(part: Part, direction: str) -> tuple[Node, dict[str, int]]:
    """The tree of one page, and the number of each letter of its map.

    Raises `InputError` for a layout that is not there and for shares that do not match.
    """
    reader = _Reader(direction == "rtl")
    return reader.node(part, "down", ""), reader.letters


class _Reader:
    """Walks a page in reading order and numbers panels as it meets them."""

    def __init__(self, backward: bool):
        self.backward = backward
        self.numbers = count(1)
        self.letters: dict[str, int] = {}

    def node(self, part: Part, axis: Axis, place: str) -> Node:
        """The tree of `part`; a number of panels in it stands along `axis`."""
        if part.map:
            return self.grid(part.map, part, place)
        if isinstance(part.panels, str):
            return self.node(layout(part.panels, f"{place}panels"), axis, place)
        if part.tiers:
            return self.split("down", part.tiers, part.heights, f"{place}tiers")
        if part.columns:
            return self.split("across", part.columns, part.widths, f"{place}columns")
        given = part.widths if axis == "across" else part.heights
        number = part.panels or len(given) or 1
        if number == 1 and not given:
            return Leaf(next(self.numbers))
        return self.split(axis, (Part(panels=1),) * number, given, place)

    def split(
        self, axis: Axis, parts: tuple[Part, ...], given: tuple[Share, ...], place: str
    ) -> Split:
        """Parts along `axis` with the shares that the list or each part itself gives."""
        other: Axis = "down" if axis == "across" else "across"
        key = "width" if axis == "across" else "height"
        shares = tuple(getattr(part, key) or EVEN for part in parts)
        if given:
            shares = _matched(given, len(parts), f"{place}.{key}s")
        order = range(len(parts))
        nodes = {
            i: self.node(parts[i], other, f"{place}[{i + 1}].")
            for i in (reversed(order) if self.backward and axis == "across" else order)
        }
        return Split(axis, tuple(nodes[i] for i in order), shares, place)

    def grid(self, letters: LetterMap, part: Part, place: str) -> Grid:
        """A letter map as rows and columns."""
        columns = _matched(part.widths, letters.columns, f"{place}widths")
        rows = _matched(part.heights, letters.rows, f"{place}heights")
        areas = []
        for letter in self._reading_order(list(letters.areas.items()), tiers=True):
            number = next(self.numbers)
            self.letters[letter] = number
            areas.append((Leaf(number), letters.areas[letter]))
        return Grid(columns, rows, tuple(areas), place)

    def _reading_order(
        self, areas: list[tuple[str, Area]], tiers: bool, tried: bool = False
    ) -> list[str]:
        if len(areas) == 1:
            return [areas[0][0]]
        low, high = (1, 3) if tiers else (0, 2)
        areas = sorted(areas, key=lambda item: item[1][low])
        groups, reach = [[areas[0]]], areas[0][1][high]
        for item in areas[1:]:
            if item[1][low] >= reach:
                groups.append([])
            groups[-1].append(item)
            reach = max(reach, item[1][high])
        if len(groups) == 1 and tried:  # no straight cut either way

            def place(item: tuple[str, Area]) -> tuple[int, int]:
                left, top, right, _ = item[1]
                return top, -right if self.backward else left

            return [letter for letter, _ in sorted(areas, key=place)]
        if not tiers and self.backward:
            groups.reverse()
        single = len(groups) == 1
        return [x for group in groups for x in self._reading_order(group, not tiers, single)]


def _matched(given: tuple[Share, ...], number: int, place: str) -> tuple[Share, ...]:
    if given and len(given) != number:
        raise InputError(
            Problem(
                place,
                f"{len(given)} values for {number} parts",
                f"{number} values, one for each",
                "Add or remove some.",
            )
        )
    return given or (EVEN,) * number
