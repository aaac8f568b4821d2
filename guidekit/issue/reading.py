"""From what an issue writes to a tree of splits whose panels are numbered in reading order.

Reading goes tier by tier from the top, within a tier in the book's direction. A letter map is read
the same way: cut into tiers where a straight cut across the whole is possible, each tier into
columns, and so on; what cannot be cut is read by its top edge, then in the book's direction.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TypeVar

from guidekit.errors import InputError, Problem
from guidekit.issue.layouts import Layouts
from guidekit.issue.letter_map import LetterMap
from guidekit.issue.model import MOST_PANELS, Part
from guidekit.issue.share import EVEN, Share
from guidekit.issue.tree import Axis, Grid, Leaf, Node, Split
from guidekit.preset.model import Gutter

Area = tuple[int, int, int, int]
Value = TypeVar("Value")
DEEPEST = 24  # splits within splits


class Reader:
    """Walks the parts of one page in reading order and numbers panels as it meets them.

    `letters` holds, for each letter of the maps read so far, the numbers of the panels that it
    stands for: more than one where several maps have the letter.
    """

    def __init__(self, layouts: Layouts, direction: str):
        self.layouts = layouts
        self.backward = direction == "rtl"
        self.letters: dict[str, tuple[int, ...]] = {}
        self.count = 0
        self.inside: tuple[str, ...] = ()  # the layouts being read
        self.depth = 0

    def read(self, part: Part, axis: Axis = "down", place: str = "", mirror: bool = False) -> Node:
        """The tree of a page or of a part of it; a number of panels in it stands along `axis`.

        Numbers go on from what was read before. With `mirror`, left and right are swapped. Raises
        `InputError` led by `place` for a layout that is not there, for shares that do not match and
        for what is nested too deeply.
        """
        self.depth += 1
        if self.depth > DEEPEST:
            raise InputError(
                Problem(place, "tiers and columns nested too deeply", f"a depth of {DEEPEST}")
            )
        node = self._node(part, axis, place, mirror)
        self.depth -= 1
        return node

    def _node(self, part: Part, axis: Axis, place: str, mirror: bool) -> Node:
        if part.map:
            return self.grid(part.map, part, place, mirror)
        if isinstance(part.panels, str):
            return self.named(part.panels, part.gutter, axis, place)
        _check_shares(part, axis, place)
        if part.tiers:
            return self.split("down", part, part.tiers, part.heights, f"{place}tiers", mirror)
        if part.columns:
            return self.split("across", part, part.columns, part.widths, f"{place}columns", mirror)
        given = part.widths if axis == "across" else part.heights
        number = part.panels or len(given) or 1
        if number == 1 and not given:
            if part.gutters or part.slants or part.slant:
                raise InputError(
                    Problem(
                        f"{place}panels",
                        "gutters or slants of a single panel",
                        "gaps between at least two parts",
                    )
                )
            return Leaf(self.number(place))
        return self.split(axis, part, (Part(panels=1),) * number, given, place.rstrip("."), mirror)

    def number(self, place: str) -> int:
        """The next panel's number."""
        self.count += 1
        if self.count > MOST_PANELS:
            allowed = f"at most {MOST_PANELS:,} panels on a page"
            raise InputError(Problem(place or "page", "too many panels", allowed))
        return self.count

    def named(self, name: str, gutter: Gutter | None, axis: Axis, place: str) -> Node:
        """A named layout, mirrored in right-to-left books unless it says otherwise."""
        if name in self.inside:
            circle = " → ".join((*self.inside[self.inside.index(name) :], name))
            raise InputError(
                Problem(
                    f"{place}panels",
                    f"layouts name each other in a circle ({circle})",
                    "layouts that end in panels",
                    "Change one of them.",
                )
            )
        layout = self.layouts.find(name, f"{place}panels")
        outside, self.inside = self.inside, (*self.inside, name)
        mirror = self.backward and layout.mirror
        node = self.read(layout, axis, f"layouts.{name}.", mirror)
        self.inside = outside
        if gutter and not isinstance(node, Leaf) and not node.gutter:
            node = replace(node, gutter=gutter)
        return node

    def split(
        self,
        axis: Axis,
        part: Part,
        parts: tuple[Part, ...],
        given: tuple[Share, ...],
        place: str,
        mirror: bool,
    ) -> Split:
        """Parts along `axis` with the shares that the list or each part itself gives."""
        other: Axis = "down" if axis == "across" else "across"
        key = "width" if axis == "across" else "height"
        shares = tuple(getattr(inner, key) or EVEN for inner in parts)
        if given:
            shares = _matched(given, len(parts), f"{place}.{key}s")
        gaps = len(parts) - 1
        lengths = _matched(part.gutters, gaps, f"{place}.gutters") if part.gutters else ()
        slants = _matched(part.slants, gaps, f"{place}.slants") if part.slants else ()
        if part.slant:
            slants = (part.slant,) * gaps
        if mirror:
            slants = tuple(slant.opposite() for slant in slants)
            if axis == "across":
                parts, shares, lengths, slants = (
                    parts[::-1], shares[::-1], lengths[::-1], slants[::-1]
                )  # fmt: skip
        order = range(len(parts))
        nodes = {
            i: self.read(parts[i], other, f"{place}[{i + 1}].", mirror)
            for i in (reversed(order) if self.backward and axis == "across" else order)
        }
        inside = tuple(nodes[i] for i in order)
        return Split(axis, inside, shares, lengths, slants, part.gutter, place)

    def grid(self, letters: LetterMap, part: Part, place: str, mirror: bool) -> Grid:
        """A letter map as rows and columns."""
        columns = part.widths or (EVEN,) * letters.columns
        columns = _matched(columns, letters.columns, f"{place}widths")
        rows = _matched(part.heights or (EVEN,) * letters.rows, letters.rows, f"{place}heights")
        items = list(letters.areas.items())
        if mirror:
            wide = letters.columns
            columns = columns[::-1]
            items = [(k, (wide - r, top, wide - left, b)) for k, (left, top, r, b) in items]
        by_letter, areas = dict(items), []
        for letter in self._reading_order(items, tiers=True):
            leaf = Leaf(self.number(place))
            self.letters[letter] = (*self.letters.get(letter, ()), leaf.number)
            areas.append((leaf, by_letter[letter]))
        return Grid(columns, rows, tuple(areas), part.gutter, place)

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


def _check_shares(part: Part, axis: Axis, place: str) -> None:
    """Raise `InputError` for widths or heights that divide nothing here."""
    across = part.map or part.columns or (not part.tiers and axis == "across")
    down = part.map or part.tiers or (not part.columns and axis == "down")
    for given, divides, name, other in (
        (part.widths, across, "widths", "columns"),
        (part.heights, down, "heights", "tiers"),
    ):
        if given and not divides:
            raise InputError(
                Problem(
                    f"{place}{name}",
                    "these parts do not lie that way",
                    f"{name} where there are {other}",
                    f"Write {other}, or take the {name} out.",
                )
            )


def _matched(given: tuple[Value, ...], number: int, place: str) -> tuple[Value, ...]:
    if len(given) != number:
        raise InputError(
            Problem(
                place,
                f"{len(given)} values where {number} are needed",
                f"{number} values, one for each" if number else "none, for there is a single part",
                "Add or remove some.",
            )
        )
    return given
