"""Where everything in a TOML file stands, to the byte, so that a part of it can be written anew."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tree_sitter import Node

from guidekit.errors import Key
from guidekit.toml.lines import TABLES, Headings, line_start, names_of, parsed, with_comments


@dataclass(frozen=True)
class Pair:
    """A key with its value: a line of its own under the heading `home`, or inside an inline table.

    `start` and `end` are those of the key and the value, without a comment behind them.
    """

    key: Key
    home: Key
    node: Node
    inline: bool = False

    @property
    def start(self) -> int:
        """Where its key begins."""
        return self.node.start_byte

    @property
    def end(self) -> int:
        """Where its value ends."""
        return self.value.end_byte

    @property
    def value(self) -> Node:
        """The node of its value."""
        return inside(self.node)[1]


@dataclass(frozen=True)
class Heading:
    """``[key]`` or ``[[key]]``; `end` is where the last of its brackets ends."""

    key: Key
    start: int
    end: int


class Skeleton:
    """The pairs, headings and values of a sound TOML file, in the order in which they stand.

    `nodes` has the node of each value that is written in one piece: not that of a table which
    headings or dotted keys make.
    """

    def __init__(self, text: bytes):
        self.text = text
        self.pairs: list[Pair] = []
        self.headings: list[Heading] = []
        self.nodes: dict[Key, Node] = {}
        self.members: dict[Key, list[Pair]] = {}  # of each inline table
        resolve = Headings()
        for node in parsed(text).named_children:
            if node.type == "pair":
                self._pair((), (), node)
            elif node.type in TABLES:
                heading, *below = inside(node)
                key = resolve.resolved(names_of(heading), opens_next=node.type != "table")
                brackets = 1 if node.type == "table" else 2
                end = text.index(b"]" * brackets, heading.end_byte) + brackets
                self.headings.append(Heading(key, node.start_byte, end))
                for pair in below:
                    self._pair(key, key, pair)

    def _pair(self, table: Key, home: Key, node: Node, inline: bool = False) -> Pair:
        pair = Pair((*table, *names_of(inside(node)[0])), home, node, inline)
        if not inline:
            self.pairs.append(pair)
        self._value(pair.key, pair.value)
        return pair

    def _value(self, key: Key, node: Node) -> None:
        self.nodes[key] = node
        if node.type == "array":
            for index, item in enumerate(inside(node)):
                self._value((*key, index), item)
        elif node.type == "inline_table":
            self.members[key] = [self._pair(key, key, pair, inline=True) for pair in inside(node)]

    def below(self, key: Key) -> Iterator[Pair]:
        """The lines that say something of a key or of what is in it."""
        return (pair for pair in self.pairs if pair.key[: len(key)] == key)

    def headings_below(self, key: Key) -> Iterator[Heading]:
        """The headings of a table and of all tables in it."""
        return (heading for heading in self.headings if heading.key[: len(key)] == key)

    def line_start(self, at: int) -> int:
        """Where the line of a byte begins."""
        return line_start(self.text, at)

    def line_end(self, at: int) -> int:
        """Behind the line break of the line of a byte, or the end of the file."""
        found = self.text.find(b"\n", at)
        return len(self.text) if found < 0 else found + 1

    def begin_of(self, heading: Heading) -> int:
        """Where a heading begins, with the comments right above it."""
        return with_comments(self.text, heading.start)

    def end_of(self, heading: Heading) -> int:
        """Behind the last line that stands under a heading; comments below it are not of it."""
        ends = [pair.end for pair in self.pairs if pair.home == heading.key]
        return self.line_end(max([heading.end, *ends]))


def inside(node: Node) -> Sequence[Node]:
    """What a node is made of, but for comments and punctuation."""
    return [child for child in node.named_children if child.type != "comment"]
