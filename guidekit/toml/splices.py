"""What is written in place of which bytes of a TOML file: lines, tables, items of lists."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from tree_sitter import Node

from guidekit.toml.lines import with_comments
from guidekit.toml.skeleton import Heading, Pair, Skeleton, inside


class Splices:
    """Words to be written in places of a text, all of them at once in the end."""

    def __init__(self, text: bytes):
        self.skeleton = Skeleton(text)
        self.line_break = "\r\n" if b"\r\n" in text else "\n"
        self.splices: list[tuple[int, int, int, str]] = []

    def result(self) -> bytes:
        """The text with all that was collected."""
        text, done, out = self.skeleton.text, 0, []
        for start, end, _, words in sorted(self.splices, key=lambda splice: splice[:3]):
            out += [text[done:start], words.replace("\n", self.line_break).encode()]
            done = max(done, end)
        return b"".join([*out, text[done:]])

    def forget(self, node: Node) -> None:
        """Nothing of what was to be written within a node."""
        self.splices = [x for x in self.splices if not node.start_byte <= x[0] < node.end_byte]

    def put(self, start: int, end: int, words: str = "", order: int = 1) -> None:
        """Write some words in place of others; of those in one place the lowest `order` first."""
        self.splices.append((start, end, order, words))

    def insert_items(self, node: Node, at: int, words: Sequence[str]) -> None:
        """Items of a list, before the one at a place or behind the last.

        Beside an item that has lines to itself each gets one as well.
        """
        items = inside(node)
        if not words:
            return
        neighbour = items[max(at - 1, 0)] if items else None
        if neighbour and (lines := self._own_lines(neighbour)):
            self._insert_lines(neighbour, lines, words, behind=bool(at))
        elif not neighbour:
            end = node.start_byte + 1
            self.put(end, end, ", ".join(words))
        elif at:
            self.put(neighbour.end_byte, neighbour.end_byte, "".join(f", {x}" for x in words))
        else:
            start = neighbour.start_byte
            self.put(start, start, "".join(f"{word}, " for word in words))

    def _own_lines(self, item: Node) -> tuple[bytes, bytes] | None:
        """What stands on the lines of an item of a list before and behind it, if that is no other.

        Before it that is how far it is set in, behind it a comma if there is one, and a comment.
        """
        text = self.skeleton.text
        before = text[self.skeleton.line_start(item.start_byte) : item.start_byte]
        behind = text[item.end_byte : self.skeleton.line_end(item.end_byte)]
        rest = behind.strip().removeprefix(b",").lstrip()
        return None if before.strip() or (rest and rest[:1] != b"#") else (before, behind)

    def _insert_lines(
        self, item: Node, lines: tuple[bytes, bytes], words: Sequence[str], *, behind: bool
    ) -> None:
        """Items on lines of their own below that of another, or above it and its comments."""
        indent, rest = lines[0].decode(), lines[1].lstrip()
        if not behind:
            at, last = with_comments(self.skeleton.text, item.start_byte), ","
        else:
            at, last = self.skeleton.line_end(item.end_byte), "," if rest[:1] == b"," else ""
            if not last:
                self.put(item.end_byte, item.end_byte, ",")
        self.put(at, at, "".join(f"{indent}{word},\n" for word in words[:-1]))
        self.put(at, at, f"{indent}{words[-1]}{last}\n")

    def remove_items(self, node: Node, items: Sequence[Node], gone: Collection[int]) -> None:
        """Items of a list or an inline table with their commas and lines; comments stay."""
        if not gone:
            return
        text = self.skeleton.text
        commas = [child for child in node.children if child.type == ","]
        kept_behind = max((i for i in range(len(items)) if i not in gone), default=-1)
        for i in gone:
            start, end = items[i].start_byte, items[i].end_byte
            own = self._own_lines(items[i])
            if own and own[1].strip() == (b"," if i < len(commas) else b""):
                self.put(self.skeleton.line_start(start), self.skeleton.line_end(end))
                if i >= len(commas) and kept_behind >= 0:
                    self.put(commas[kept_behind].start_byte, commas[kept_behind].end_byte)
                continue
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

    def remove_block(self, heading: Heading) -> None:
        """A table with its heading, and a blank line that would be left over."""
        text = self.skeleton.text
        start, end = self.skeleton.begin_of(heading), self.skeleton.end_of(heading)
        blank = len(text[:start].rstrip(b" \t\r\n"))
        at_end = not text[end:].strip()
        if blank and (at_end or text[end : end + 2].startswith((b"\n", b"\r\n"))):
            start = self.skeleton.line_end(blank)
        self.put(start, end)

    def add_member(self, node: Node, members: Sequence[Pair], words: str) -> None:
        """A pair behind the others of an inline table."""
        if members:
            self.put(members[-1].end, members[-1].end, f", {words}")
        else:
            self.put(node.start_byte, node.end_byte, f"{{ {words} }}")

    def insert_under(self, heading: Heading, words: str) -> None:
        """A table behind another, with a blank line between."""
        self.insert_after(self.skeleton.end_of(heading), f"\n{words}")

    def insert_after(self, at: int, words: str, order: int = 1) -> None:
        """Whole lines at the beginning of a line, or at the end of a file without line break."""
        text = self.skeleton.text
        if at and text[at - 1 : at] != b"\n":
            words = f"\n{words}"
        self.put(at, at, words, order)


def _behind_blanks(text: bytes, at: int) -> int:
    return at + len(text[at:]) - len(text[at:].lstrip(b" \t"))
