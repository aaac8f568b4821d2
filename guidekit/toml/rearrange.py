"""The entries of a list of tables in another order, with the comments right above each."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from itertools import pairwise

from tree_sitter import Node

from guidekit.errors import InputError, Key, Problem
from guidekit.toml.rewrite import checked_text
from guidekit.toml.skeleton import Heading, Skeleton, inside
from guidekit.toml.splices import Splices


def rearranged(text: str, name: str, order: Sequence[int]) -> str:
    """The entries of the list `name` by their numbers from 0, each as often as it is named.

    What is named again is a copy without the comments above it; what is not named is gone. What
    stands between entries stays where it is. Raises `InputError` where it cannot be done.
    """
    values = tomllib.loads(text)
    meant = {**values, name: [values[name][i] for i in order]}
    skeleton = Skeleton(text.encode())
    node = skeleton.nodes.get((name,))
    if node:
        return checked_text(_items(skeleton, node, order), meant)
    return checked_text(_tables(skeleton, name, order), meant)


def _tables(skeleton: Skeleton, name: str, order: Sequence[int]) -> str:
    text = skeleton.text
    firsts = _firsts(skeleton, name)
    spans = [_span(skeleton, (name, i)) for i in range(len(firsts))]
    for (_, end), (begin, _) in pairwise(spans):
        if begin < end:
            came = f"the tables of an entry of {name} stand apart from each other"
            raise InputError(Problem((name,), came, todo="Put them together in the file."))
    entries = [text[start:end].rstrip(b"\r\n") for start, end in spans]
    bare = [
        text[skeleton.line_start(h.start) : end].rstrip(b"\r\n")
        for h, (_, end) in zip(firsts, spans, strict=True)
    ]
    between = [text[end:begin] for (_, end), (begin, _) in pairwise(spans)]
    line_break = b"\r\n" if b"\r\n" in text else b"\n"
    head, tail = text[: spans[0][0]], text[spans[-1][1] :]
    closed = text[: spans[-1][1]].endswith(b"\n")
    out, seen = [head], set[int]()
    while len(between) >= len(order) and between:  # fewer entries: keep what is more than blank
        least = min(range(len(between)), key=lambda i: len(between[i].strip()))
        more = between.pop(least)
        if more.strip():
            tail = more + tail
    for place, i in enumerate(order):
        if place:
            out.append(between[place - 1] if place <= len(between) else line_break)
        out += [bare[i] if i in seen else entries[i], line_break]
        seen.add(i)
    if not closed and not tail:
        out.pop()
    return b"".join([*out, tail]).decode()


def entry_in(text: str, name: str, index: int) -> tuple[int, str]:
    """The line at which an entry of a list of tables begins, counted from 1, and its text."""
    skeleton = Skeleton(text.encode())
    if node := skeleton.nodes.get((name, index)):
        start, end = node.start_byte, node.end_byte
    else:
        start, end = _span(skeleton, (name, index))
    data = skeleton.text
    return data.count(b"\n", 0, start) + 1, data[start:end].decode()


def _firsts(skeleton: Skeleton, name: str) -> list[Heading]:
    return [h for h in skeleton.headings if len(h.key) == 2 and h.key[0] == name]


def _span(skeleton: Skeleton, key: Key) -> tuple[int, int]:
    """Where an entry begins, with its comments, and where the last of its lines ends."""
    headings = [*skeleton.headings_below(key)]
    return skeleton.begin_of(headings[0]), max(map(skeleton.end_of, headings))


def _items(skeleton: Skeleton, node: Node, order: Sequence[int]) -> str:
    """Entries in a list on one or several lines; comments in it stay where they are."""
    splices, items = Splices(skeleton.text), inside(node)
    words = [skeleton.text[x.start_byte : x.end_byte].decode().replace("\r\n", "\n") for x in items]
    unnamed = [i for i in range(len(items)) if i not in order]
    gone = unnamed[: max(len(items) - len(order), 0)]
    kept = [item for i, item in enumerate(items) if i not in gone]
    for item, i in zip(kept, order, strict=False):
        splices.put(item.start_byte, item.end_byte, words[i])
    splices.remove_items(node, items, gone)
    splices.insert_items(node, len(items), [words[i] for i in order[len(items) :]])
    return splices.result().decode()
