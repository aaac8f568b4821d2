"""A TOML file with other values in it: only what stands for them is written anew.

Comments, order, spelling and line breaks of all else stay, byte for byte. What comes out is read
again and compared with what was meant.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from typing import Any

from tree_sitter import Node

from guidekit.errors import InputError, Key, Problem
from guidekit.toml.skeleton import Heading, inside
from guidekit.toml.spell import block, is_table_of_tables, lines, spelled, spelled_key
from guidekit.toml.splices import Splices

Table = dict[str, Any]


def rewritten(text: str, meant: Table) -> str:
    """The same file with these values; raises `InputError` where it cannot be written so."""
    values = tomllib.loads(text)
    if same(values, meant):
        return text
    writer = _Writer(text.encode())
    writer.table((), values, meant)
    return checked_text(writer.result().decode(), meant)


def checked_text(text: str, meant: Table) -> str:
    """The text if it says what is meant; raises `InputError`."""
    try:
        found = same(tomllib.loads(text), meant)
    except tomllib.TOMLDecodeError:
        found = False
    if not found:
        came = "this change cannot be written into the file as it is spelled"
        todo = "Change it in the file itself, or write the table in another way."
        raise InputError(Problem((), came, todo=todo))
    return text


def same(one: Any, other: Any) -> bool:
    """True for equal values of equal kinds: 1 is neither 1.0 nor true."""
    if type(one) is not type(other):
        return False
    if isinstance(one, dict):
        return one.keys() == other.keys() and all(same(one[key], other[key]) for key in one)
    if isinstance(one, list):
        return len(one) == len(other) and all(map(same, one, other))
    return bool(one == other) or one != one  # not a number, twice


class _Writer(Splices):
    """Finds where each value stands, and in how few pieces it is changed."""

    def table(self, key: Key, old: Table, new: Table) -> None:
        """What is in a table."""
        for name in old:
            if name in new and not same(old[name], new[name]):
                self.value((*key, name), old[name], new[name])
        gone = [name for name in old if name not in new]
        come = [name for name in new if name not in old]
        node = self.skeleton.nodes.get(key)
        if node and come and (not old or (gone and not self.fits(key, gone, come))):
            self.forget(node)
            self.put(node.start_byte, node.end_byte, spelled(new))
            return
        while gone and come and self.exchanged(key, gone[0], come[0], new[come[0]]):
            del gone[0], come[0]
        for name in gone:
            self.remove((*key, name))
        for name in sorted(come, key=lambda name: isinstance(new[name], dict)):
            self.add(key, name, new[name])

    def value(self, key: Key, old: Any, new: Any) -> None:
        """One value, in as few pieces as need be."""
        node = self.skeleton.nodes.get(key)
        if isinstance(old, dict) and isinstance(new, dict) and (new or self.stands(key)):
            self.table(key, old, new)
        elif isinstance(old, list) and isinstance(new, list) and (node or _are_tables(new)):
            self.list(key, node, old, new)
        elif node:
            self.put(node.start_byte, node.end_byte, spelled(new))
        else:
            self.remove(key)
            self.add(key[:-1], str(key[-1]), new)

    def fits(self, key: Key, gone: Sequence[str], come: Sequence[str]) -> bool:
        """True if in an inline table each key that is gone has its place for one that comes."""
        dotted = any(len(pair.key) > len(key) + 1 for pair in self.skeleton.members[key])
        return len(gone) == len(come) and not dotted

    def stands(self, key: Key) -> bool:
        """True if a table is there even when nothing is in it."""
        return key in self.skeleton.nodes or any(
            heading.key == key for heading in self.skeleton.headings
        )

    def exchanged(self, table: Key, name: str, by: str, value: Any) -> bool:
        """True if another key could be written where one stands, so that its comment stays."""
        if is_table_of_tables(value) and table not in self.skeleton.members:
            return False
        pairs = [pair for pair in self.skeleton.below((*table, name)) if pair.home == table]
        pairs += [pair for pair in self.skeleton.members.get(table, ()) if pair.key[-1] == name]
        if len(pairs) != 1 or pairs[0].key != (*table, name):
            return False
        self.put(pairs[0].start, pairs[0].end, f"{spelled_key(by)} = {spelled(value)}")
        return True

    def list(self, key: Key, node: Node | None, old: list[Any], new: list[Any]) -> None:
        """A list: what is alike at both ends stays, what lies between is changed one by one."""
        ends = _alike_at_the_ends(old, new)
        before, behind = ends
        both = range(before, min(len(old), len(new)) - behind)
        for i in both:
            if not same(old[i], new[i]):
                self.value((*key, i), old[i], new[i])
        more = new[both.stop : len(new) - behind]
        gone = range(both.stop, len(old) - behind)
        if node:
            self.remove_items(node, inside(node), gone)
            self.insert_items(node, both.stop, [spelled(value) for value in more])
            return
        for i in gone:
            self.remove((*key, i))
        if more:
            self.insert_tables(key, both.stop, more)

    def remove(self, key: Key) -> None:
        """All that is said of a key, with the comments on its lines."""
        inline = self.skeleton.members.get(key[:-1])
        if inline is not None:
            gone = [i for i, pair in enumerate(inline) if pair.key[: len(key)] == key]
            self.remove_items(self.skeleton.nodes[key[:-1]], [x.node for x in inline], gone)
            return
        headings = [*self.skeleton.headings_below(key)]
        for pair in self.skeleton.below(key):
            if all(pair.home != heading.key for heading in headings):
                start, end = self.skeleton.line_start(pair.start), self.skeleton.line_end(pair.end)
                self.put(start, end)
        for heading in headings:
            self.remove_block(heading)

    def add(self, table: Key, name: str, value: Any) -> None:
        """A key that is new in its table, spelled as its neighbours are."""
        skeleton = self.skeleton
        node = skeleton.nodes.get(table)
        if node:
            self.add_member(
                node, skeleton.members[table], f"{spelled_key(name)} = {spelled(value)}"
            )
            return
        dotted = [pair for pair in skeleton.below(table) if pair.home != table]
        below = [*skeleton.headings_below(table)]
        heading = next((found for found in below if found.key == table), None)
        if not table and isinstance(value, dict):
            self.add_heading(name, value)
        elif heading or not table:
            self.add_lines(heading, table, [(name,)], value)
        elif below and isinstance(value, dict):
            self.insert_under(below[-1], block([*_names(table), name], value, "[]"))
        elif below:
            at = skeleton.begin_of(below[0])
            self.put(at, at, f"{block(_names(table), {name: value}, '[]')}\n")
        elif dotted:
            last = dotted[-1]
            rest = [str(part) for part in table[len(last.home) :]]
            self.insert_after(skeleton.line_end(last.end), lines((*rest, name), value))
        else:  # only headings of tables in it are there, or dotted keys above it
            home = max((h for h in skeleton.headings if h.key == table[: len(h.key)]),
                       key=lambda h: len(h.key), default=None)  # fmt: skip
            above = home.key if home else ()
            self.add_lines(home, above, [(*map(str, table[len(above) :]), name)], value)

    def add_lines(self, heading: Heading | None, table: Key, names: Any, value: Any) -> None:
        """Lines behind the last one that stands right under a heading, or at the top."""
        ends = [pair.end for pair in self.skeleton.pairs if pair.home == table]
        ends += [heading.end] if heading else []
        at = self.skeleton.line_end(max(ends)) if ends else 0
        for name in names:
            self.insert_after(at, lines(name, value), order=1 if table else 0)

    def add_heading(self, name: str, value: Table) -> None:
        """A new table of the whole file, before the first that is there."""
        words = "\n".join(
            block([name, inner], table, "[]") for inner, table in value.items()
        ) if is_table_of_tables(value) else block([name], value, "[]")  # fmt: skip
        if self.skeleton.headings:
            at = self.skeleton.begin_of(self.skeleton.headings[0])
            self.put(at, at, f"{words}\n")
        else:
            self.insert_after(len(self.skeleton.text), f"\n{words}")

    def insert_tables(self, key: Key, at: int, tables: Sequence[Table]) -> None:
        """Entries of a list of tables, behind one that is there or before the first."""
        blocks = [block(_names(key), table, "[[]]") for table in tables]
        if at:
            last = [*self.skeleton.headings_below((*key, at - 1))][-1]
            self.insert_under(last, "\n".join(blocks))
        else:
            start = self.skeleton.begin_of(next(self.skeleton.headings_below((*key, 0))))
            self.put(start, start, "".join(f"{words}\n" for words in blocks))


def _names(key: Key) -> list[str]:
    return [part for part in key if isinstance(part, str)]


def _are_tables(value: list[Any]) -> bool:
    return bool(value) and all(isinstance(item, dict) for item in value)


def _alike_at_the_ends(old: Sequence[Any], new: Sequence[Any]) -> tuple[int, int]:
    """How many values are alike at the beginning, and of the others at the end."""
    most = min(len(old), len(new))
    before = next((i for i in range(most) if not same(old[i], new[i])), most)
    most -= before
    behind = next((i for i in range(most) if not same(old[-1 - i], new[-1 - i])), most)
    return before, behind
