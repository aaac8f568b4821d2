"""On which lines of a TOML file its keys stand; asked for only when something there is wrong.

tree-sitter keeps the position of everything that it reads, which tomllib does not.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator

import tree_sitter_toml
from tree_sitter import Language, Node, Parser

from guidekit.errors import Key

TABLES = ("table", "table_array_element")


def lines_of(text: bytes, wanted: Iterable[Key]) -> dict[Key, int]:
    """The line, counted from 1, of each key that is there; `text` is sound TOML.

    A key that leads through several tables is on the line that names the last of them first.
    """
    finder = _Finder(wanted)
    for node in parsed(text).named_children:
        finder.statement(node)
        if len(finder.found) == len(finder.leading):
            break
    return finder.found


def parsed(text: bytes) -> Node:
    """The root of the tree of a file, which is sound TOML."""
    return Parser(Language(tree_sitter_toml.language())).parse(text).root_node


def line_start(text: bytes, at: int) -> int:
    """Where the line of a byte begins."""
    return text.rfind(b"\n", 0, at) + 1


def with_comments(text: bytes, at: int) -> int:
    """Where the line of a byte begins, with the lines of comment right above it."""
    start = line_start(text, at)
    while start:
        above = line_start(text, start - 1)
        if not text[above:start].lstrip().startswith(b"#"):
            break
        start = above
    return start


class Headings:
    """What headings mean, read one after the other from the top."""

    def __init__(self) -> None:
        self.last: dict[Key, int] = {}  # of each list of tables the place of its newest

    def resolved(self, names: list[str], opens_next: bool) -> Key:
        """The key of a heading: where it passes a list of tables, the newest of them is meant."""
        key: Key = ()
        for i, name in enumerate(names, 1):
            key = (*key, name)
            if opens_next and i == len(names):
                self.last[key] = self.last.get(key, -1) + 1
            if key in self.last:
                key = (*key, self.last[key])
        return key


class _Finder:
    """Walks the statements of a file, and only into values that lead to a wanted key."""

    def __init__(self, wanted: Iterable[Key]):
        wanted = [*wanted]
        self.leading = {key[:n] for key in wanted for n in range(1, len(key) + 1)}
        self.above = {key[:n] for key in wanted for n in range(1, len(key))}
        self.found: dict[Key, int] = {}
        self.headings = Headings()

    def statement(self, node: Node) -> None:
        """A key with its value, or a heading with all that stands under it."""
        if node.type == "pair":
            self.pair((), node)
        elif node.type in TABLES:
            heading, *pairs = node.named_children
            table = self.headings.resolved(names_of(heading), opens_next=node.type != "table")
            self.note(table, heading)
            if table in self.above:
                for pair in pairs:
                    self.pair(table, pair)

    def pair(self, table: Key, node: Node) -> None:
        """A key with its value."""
        if node.type == "pair":
            name, value = (child for child in node.named_children if child.type != "comment")
            key = (*table, *names_of(name))
            self.note(key, name)
            self.value(key, value)

    def value(self, key: Key, node: Node) -> None:
        """What is inside a list or an inline table."""
        if key not in self.above:
            return
        inside = [child for child in node.named_children if child.type != "comment"]
        if node.type == "inline_table":
            for pair in inside:
                self.pair(key, pair)
        elif node.type == "array":
            for i, item in enumerate(inside):
                self.note((*key, i), item)
                self.value((*key, i), item)

    def note(self, key: Key, node: Node) -> None:
        """Keep the line for a key and the tables on the way to it, unless they have theirs."""
        for n in range(1, len(key) + 1):
            if key[:n] in self.leading:
                self.found.setdefault(key[:n], node.start_point.row + 1)


def names_of(node: Node) -> list[str]:
    """The names of a key: ``a."b c".d`` → a, b c, d."""
    return [_name(part) for part in _parts(node)]


def _parts(node: Node) -> Iterator[Node]:
    """The names in a dotted key, which is a dotted key followed by a name."""
    parts = []
    while node.type == "dotted_key":
        node, part = node.named_children
        parts.append(part)
    return reversed([*parts, node])


def _name(node: Node) -> str:
    text = (node.text or b"").decode()
    if node.type != "quoted_key":
        return text
    (name,) = tomllib.loads(f"{text} = 0")
    return name
