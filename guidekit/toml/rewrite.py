"""A TOML file with other values in it: only what stands for them is written anew.

Comments, order, spelling and line breaks of all else stay, byte for byte. What comes out is read
again and compared with what was meant.
"""

from __future__ import annotations

import tomllib
from collections.abc import Collection, Sequence
from typing import Any

from tree_sitter import Node

from guidekit.errors import InputError, Key, Problem
from guidekit.toml.skeleton import Heading, Pair, Skeleton, inside
from guidekit.toml.spell import block, is_table_of_tables, lines, spelled, spelled_key

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


class _Writer:
    """Collects what is to be written in place of which bytes."""

    def __init__(self, text: bytes):
        self.outline = Skeleton(text)
        self.line_break = "\r\n" if b"\r\n" in text else "\n"
        self.splices: list[tuple[int, int, int, str]] = []

    def result(self) -> bytes:
        """The text with all that was collected."""
        text, done, out = self.outline.text, 0, []
        for start, end, _, words in sorted(self.splices, key=lambda splice: splice[:3]):
            out += [text[done:start], words.replace("\n", self.line_break).encode()]
            done = max(done, end)
        return b"".join([*out, text[done:]])

    def put(self, start: int, end: int, words: str = "", order: int = 1) -> None:
        """Write some words in place of others; of those in one place the lowest `order` first."""
        self.splices.append((start, end, order, words))

    def table(self, key: Key, old: Table, new: Table) -> None:
        """What is in a table."""
        for name in old:
            if name in new and not same(old[name], new[name]):
                self.value((*key, name), old[name], new[name])
        gone = [name for name in old if name not in new]
        come = [name for name in new if name not in old]
        node = self.outline.nodes.get(key)
        if node and come and (not old or (gone and not self.fits(key, gone, come))):
            self.splices = [x for x in self.splices if not node.start_byte <= x[0] < node.end_byte]
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
        node = self.outline.nodes.get(key)
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
        dotted = any(len(pair.key) > len(key) + 1 for pair in self.outline.members[key])
        return len(gone) == len(come) and not dotted

    def stands(self, key: Key) -> bool:
        """True if a table is there even when nothing is in it."""
        return key in self.outline.nodes or any(
            heading.key == key for heading in self.outline.headings
        )

    def exchanged(self, table: Key, name: str, by: str, value: Any) -> bool:
        """True if another key could be written where one stands, so that its comment stays."""
        if is_table_of_tables(value) and table not in self.outline.members:
            return False
        pairs = [pair for pair in self.outline.below((*table, name)) if pair.home == table]
        pairs += [pair for pair in self.outline.members.get(table, ()) if pair.key[-1] == name]
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

    def insert_items(self, node: Node, at: int, words: Sequence[str]) -> None:
        items = inside(node)
        if not words:
            return
        if not items:
            end = node.start_byte + 1
            self.put(end, end, ", ".join(words))
        elif at:
            end = items[at - 1].end_byte
            self.put(end, end, "".join(f", {word}" for word in words))
        else:
            start = items[0].start_byte
            self.put(start, start, "".join(f"{word}, " for word in words))

    def remove_items(self, node: Node, items: Sequence[Node], gone: Collection[int]) -> None:
        """Items of a list or an inline table with their commas; comments stay."""
        if not gone:
            return
        text = self.outline.text
        commas = [child for child in node.children if child.type == ","]
        kept_behind = max((i for i in range(len(items)) if i not in gone), default=-1)
        for i in gone:
            start, end = items[i].start_byte, items[i].end_byte
            comma = commas[i] if i < kept_behind else commas[i - 1] if i else None
            if i >= kept_behind and comma:
                self.put(comma.start_byte, comma.end_byte)
                if not text[comma.end_byte : start].strip(b" \t"):
                    start = comma.end_byte
            elif comma:
                self.put(comma.start_byte, _behind_blanks(text, comma.end_byte))
            self.put(start, end)
        if kept_behind < 0 and len(commas) == len(items):
            self.put(commas[-1].start_byte, commas[-1].end_byte)

    def remove(self, key: Key) -> None:
        """All that is said of a key, with the comments on its lines."""
        inline = self.outline.members.get(key[:-1])
        if inline is not None:
            gone = [i for i, pair in enumerate(inline) if pair.key[: len(key)] == key]
            self.remove_items(self.outline.nodes[key[:-1]], [x.node for x in inline], gone)
            return
        headings = [*self.outline.headings_below(key)]
        for pair in self.outline.below(key):
            if all(pair.home != heading.key for heading in headings):
                start, end = self.outline.line_start(pair.start), self.outline.line_end(pair.end)
                self.put(start, end)
        for heading in headings:
            self.remove_block(heading)

    def remove_block(self, heading: Heading) -> None:
        text = self.outline.text
        start, end = self.outline.begin_of(heading), self.outline.end_of(heading)
        blank = len(text[:start].rstrip(b" \t\r\n"))
        at_end = not text[end:].strip()
        if blank and (at_end or text[end : end + 2].startswith((b"\n", b"\r\n"))):
            start = self.outline.line_end(blank)
        self.put(start, end)

    def add(self, table: Key, name: str, value: Any) -> None:
        """A key that is new in its table, spelled as its neighbours are."""
        outline = self.outline
        node = outline.nodes.get(table)
        if node:
            self.add_member(node, outline.members[table], f"{spelled_key(name)} = {spelled(value)}")
            return
        dotted = [pair for pair in outline.below(table) if pair.home != table]
        below = [*outline.headings_below(table)]
        heading = next((found for found in below if found.key == table), None)
        if not table and isinstance(value, dict):
            self.add_heading(name, value)
        elif heading or not table:
            self.add_lines(heading, table, [(name,)], value)
        elif below and isinstance(value, dict):
            self.insert_under(below[-1], block([*_names(table), name], value, "[]"))
        elif below:
            at = outline.begin_of(below[0])
            self.put(at, at, f"{block(_names(table), {name: value}, '[]')}\n")
        elif dotted:
            last = dotted[-1]
            rest = [str(part) for part in table[len(last.home) :]]
            self.insert_after(outline.line_end(last.end), lines((*rest, name), value))
        else:  # only headings of tables in it are there, or dotted keys above it
            home = max((h for h in outline.headings if h.key == table[: len(h.key)]),
                       key=lambda h: len(h.key), default=None)  # fmt: skip
            above = home.key if home else ()
            self.add_lines(home, above, [(*map(str, table[len(above) :]), name)], value)

    def add_member(self, node: Node, members: Sequence[Pair], words: str) -> None:
        if members:
            self.put(members[-1].end, members[-1].end, f", {words}")
        else:
            self.put(node.start_byte, node.end_byte, f"{{ {words} }}")

    def add_lines(self, heading: Heading | None, table: Key, names: Any, value: Any) -> None:
        """Lines behind the last one that stands right under a heading, or at the top."""
        ends = [pair.end for pair in self.outline.pairs if pair.home == table]
        ends += [heading.end] if heading else []
        at = self.outline.line_end(max(ends)) if ends else 0
        for name in names:
            self.insert_after(at, lines(name, value), order=1 if table else 0)

    def add_heading(self, name: str, value: Table) -> None:
        """A new table of the whole file, before the first that is there."""
        words = "\n".join(
            block([name, inner], table, "[]") for inner, table in value.items()
        ) if is_table_of_tables(value) else block([name], value, "[]")  # fmt: skip
        if self.outline.headings:
            at = self.outline.begin_of(self.outline.headings[0])
            self.put(at, at, f"{words}\n")
        else:
            self.insert_after(len(self.outline.text), f"\n{words}")

    def insert_tables(self, key: Key, at: int, tables: Sequence[Table]) -> None:
        """Entries of a list of tables, behind one that is there or before the first."""
        blocks = [block(_names(key), table, "[[]]") for table in tables]
        if at:
            last = [*self.outline.headings_below((*key, at - 1))][-1]
            self.insert_under(last, "\n".join(blocks))
        else:
            start = self.outline.begin_of(next(self.outline.headings_below((*key, 0))))
            self.put(start, start, "".join(f"{words}\n" for words in blocks))

    def insert_under(self, heading: Heading, words: str) -> None:
        self.insert_after(self.outline.end_of(heading), f"\n{words}")

    def insert_after(self, at: int, words: str, order: int = 1) -> None:
        """Whole lines at the beginning of a line, or at the end of a file without line break."""
        text = self.outline.text
        if at and text[at - 1 : at] != b"\n":
            words = f"\n{words}"
        self.put(at, at, words, order)


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


def _behind_blanks(text: bytes, at: int) -> int:
    return at + len(text[at:]) - len(text[at:].lstrip(b" \t"))
