"""From what an issue writes to a tree of splits whose panels are numbered in reading order.

Reading goes tier by tier from the top, within a tier in the book's direction.
"""

from __future__ import annotations

from dataclasses import replace

from guidekit.errors import InputError, Key, Problem, shown
from guidekit.issue.layouts import Layouts
from guidekit.issue.listed import ListedParts, check_own_shares, check_shares, matched
from guidekit.issue.models.block import Block
from guidekit.issue.models.letter_map import LetterMap
from guidekit.issue.models.part import MOST_PANELS, ONE_PANEL, SHARES, Part, Triangles
from guidekit.issue.models.share import EVEN
from guidekit.issue.reading_order import in_reading_order
from guidekit.issue.tree import Axis, Diagonals, Empty, Grid, Leaf, Node, Split
from guidekit.plane.box import Edge
from guidekit.preset.sizes import Gutter

#: The edges of a part at which each of its triangles lies, in reading order to the right.
TRIANGLES: dict[Triangles, tuple[frozenset[Edge], ...]] = {
    "falling": (frozenset({"top", "right"}), frozenset({"bottom", "left"})),
    "rising": (frozenset({"top", "left"}), frozenset({"bottom", "right"})),
    "both": tuple(frozenset[Edge]({edge}) for edge in ("top", "left", "right", "bottom")),
}
MOST_BENDS = 100  # on one page
DEEPEST = 24  # splits within splits


class Reader:
    """Walks the parts of one page in reading order and numbers panels as it meets them.

    `letters` holds, for each letter of the maps read so far, the numbers of the panels that it
    stands for: more than one where several maps have the letter.
    """

    def __init__(self, layouts: Layouts, direction: str, spread: bool = False):
        self.layouts = layouts
        self.spread = spread  # whether layouts for spreads have their place here
        self.backward = direction == "rtl"
        self.letters: dict[str, tuple[int, ...]] = {}
        self.count = 0
        self.inside: tuple[str, ...] = ()  # the layouts being read
        self.depth = 0
        self.bends = 0  # gutters that do

    def read(self, part: Part, axis: Axis = "down", key: Key = (), mirror: bool = False) -> Node:
        """The tree of a page or of a part of it; a number of panels in it stands along `axis`.

        Numbers go on from what was read before. With `mirror`, left and right are swapped. `key`
        leads to the part on its page, or begins with ``layouts`` and a name. Raises `InputError`
        for a layout that is not there, for shares that do not match and for what is nested too
        deeply.
        """
        self.depth += 1
        if self.depth > DEEPEST:
            came = f"tiers and columns are nested too deeply, more than {DEEPEST} in each other"
            raise InputError(Problem(key, came, todo="Nest less."))
        node = self._node(part, axis, key, mirror)
        self.depth -= 1
        return node

    def _node(self, part: Part, axis: Axis, key: Key, mirror: bool) -> Node:
        if part.empty:
            return Empty()
        if part.triangles:
            return self.triangles(part.triangles, part, key, mirror)
        if part.map:
            return self.grid(part.map, part, key, mirror)
        if isinstance(part.panels, str):
            return self.named(part.panels, part.gutter, axis, key)
        check_shares(part, axis, key)
        if part.tiers:
            return self.split(
                "down", part, ListedParts(part.tiers, part.heights, key, "tiers"), mirror
            )
        if part.columns:
            parts = ListedParts(part.columns, part.widths, key, "columns")
            return self.split("across", part, parts, mirror)
        given = part.widths if axis == "across" else part.heights
        number = part.panels or len(given) or 1
        if number == 1 and not given:
            for name in SHARES[2:]:
                if getattr(part, name):
                    came = f"a single panel has no {name}, which lie between several"
                    raise InputError(Problem((*key, name), came, todo="Leave it out."))
            return Leaf(self.number(key))
        return self.split(axis, part, ListedParts((ONE_PANEL,) * number, given, key), mirror)

    def number(self, key: Key) -> int:
        """The next panel's number."""
        self.count += 1
        if self.count > MOST_PANELS:
            allowed = f"at most {MOST_PANELS:,} panels on a page"
            raise InputError(Problem(key, "these are too many panels", allowed))
        return self.count

    def named(self, name: str, gutter: Gutter | None, axis: Axis, key: Key) -> Node:
        """A named layout, mirrored in right-to-left books unless it says otherwise."""
        key = (*key, "panels")
        if name in self.inside:
            circle = " → ".join((*self.inside[self.inside.index(name) :], name))
            came = f"layouts name each other in a circle ({circle})"
            raise InputError(
                Problem(key, came, "layouts that end in panels", "Change one of them.")
            )
        if name.isdecimal() and name not in self.layouts:
            came = f"{shown(name)} is text, and no layout is called that"
            raise InputError(Problem(key, came, todo=f"Write {name}, without quotes."))
        layout = self.layouts.find(name, key=key)
        if layout.spread and not self.spread:
            came = f"the layout {shown(name)} is made for a spread, and this is a single page"
            todo = "Add spread = true to the page, or take another layout."
            raise InputError(Problem(key, came, "a layout for single pages", todo))
        outside, self.inside = self.inside, (*self.inside, name)
        mirror = self.backward and layout.mirror
        node = self.read(layout, axis, ("layouts", name), mirror)
        self.inside = outside
        if gutter and isinstance(node, (Split, Grid, Diagonals)) and not node.gutter:
            node = replace(node, gutter=gutter)
        return node

    def split(self, axis: Axis, part: Part, listed: ListedParts, mirror: bool) -> Split:
        """Parts along `axis` with the shares that the list or each part itself gives."""
        other: Axis = "down" if axis == "across" else "across"
        size = "width" if axis == "across" else "height"
        parts, keys, key = listed.parts, listed.keys(), listed.key
        shares = tuple(getattr(inner, size) or EVEN for inner in parts)
        check_own_shares(listed, axis)
        if listed.shares:
            shares = matched(listed.shares, len(parts), (*key, f"{size}s"))
        gaps = len(parts) - 1
        lengths = matched(part.gutters, gaps, (*key, "gutters")) if part.gutters else ()
        slants = matched(part.slants, gaps, (*key, "slants")) if part.slants else ()
        if part.slant:
            slants = (part.slant,) * gaps
        bends = matched(part.bends, gaps, (*key, "bends")) if part.bends else ()
        if part.bend:
            bends = (part.bend,) * gaps
        self.bends += sum(map(bool, bends))
        if self.bends > MOST_BENDS:
            came = f"{self.bends} gutters bend on this page"
            where = (*key, "bend" if part.bend else "bends")
            raise InputError(Problem(where, came, f"at most {MOST_BENDS}"))
        if mirror:
            slants = tuple(slant.opposite() for slant in slants)
            if axis == "across":
                bends = tuple(bend.sideways() for bend in bends[::-1])
                parts, shares, lengths, slants, keys = (
                    parts[::-1], shares[::-1], lengths[::-1], slants[::-1], keys[::-1]
                )  # fmt: skip
            else:
                bends = tuple(bend.lengthways() for bend in bends)
        order = range(len(parts))
        nodes = {
            i: self.read(parts[i], other, keys[i], mirror)
            for i in (reversed(order) if self.backward and axis == "across" else order)
        }
        inside = tuple(nodes[i] for i in order)
        names = "slant" if part.slant else "slants", "bend" if part.bend else "bends"
        return Split(
            axis, inside, shares, lengths, slants, bends, part.gutter, key, listed.name, *names
        )

    def triangles(self, kind: Triangles, part: Part, key: Key, mirror: bool) -> Diagonals:
        """Triangles: the upper one first, then those at the sides in the book's direction."""
        if mirror and kind != "both":
            kind = "rising" if kind == "falling" else "falling"
        places = TRIANGLES[kind]
        if self.backward and kind == "both":
            top, left, right, bottom = places
            places = (top, right, left, bottom)
        panels = tuple((Leaf(self.number((*key, "triangles"))), place) for place in places)
        return Diagonals(kind, panels, part.gutter, key)

    def grid(self, letters: LetterMap, part: Part, key: Key, mirror: bool) -> Grid:
        """A letter map as rows and columns."""
        columns = part.widths or (EVEN,) * letters.columns
        columns = matched(columns, letters.columns, (*key, "widths"))
        rows = matched(part.heights or (EVEN,) * letters.rows, letters.rows, (*key, "heights"))
        by_letter, empty = letters.blocks, letters.empty
        if mirror:
            columns, wide = columns[::-1], letters.columns
            by_letter = {letter: block.mirrored(wide) for letter, block in by_letter.items()}
            empty = tuple(block.mirrored(wide) for block in empty)
        blocks: list[tuple[Leaf | Empty, Block]] = [(Empty(), block) for block in empty]
        areas = ((letter, block.area) for letter, block in by_letter.items())
        for letter in in_reading_order(areas, self.backward):
            leaf = Leaf(self.number((*key, "map")))
            self.letters[letter] = (*self.letters.get(letter, ()), leaf.number)
            blocks.append((leaf, by_letter[letter]))
        return Grid(columns, rows, tuple(blocks), part.gutter, key)


def number_of_panels(part: Part, layouts: Layouts) -> int:
    """How many panels a page or layout has; `layouts` are those that it may name."""
    reader = Reader(layouts, "ltr")
    reader.read(part)
    return reader.count
