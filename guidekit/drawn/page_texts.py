"""The pages of an issue's file as pieces of its text, put together in another order.

Comments and the look of the file stay. Whatever comes out is read again and compared with what it
should say before it is used.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from copy import deepcopy
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from guidekit.errors import InputError, Problem
from guidekit.toml import TomlFile
from guidekit.toml.lines import TABLES, names_of, parsed, with_comments

PAGES = "pages"
#: What only the first of pages alike has when they are divided.
FIRST_ONLY = ("section",)


@dataclass(frozen=True)
class Piece:
    """So many pages alike of the entry at a place in the file; a `new` one is its own text."""

    index: int
    count: int = 1
    first: bool = False
    new: str = ""


def rewritten(file: TomlFile, order: Sequence[Piece]) -> bytes:
    """The text with its pages in this order; raises `InputError` where that cannot be done."""
    head, texts, others = _divided(file)
    pieces = [*_runs(order)]
    parts = [head, *_spaced([_text(texts, piece, file) for piece in pieces], others), *others]
    text = "".join(part if part.endswith("\n") or not part else f"{part}\n" for part in parts)
    wanted = deepcopy(file.values)
    wanted[PAGES] = [value for piece in pieces for value in _values(piece, file)]
    try:
        if tomllib.loads(text) == wanted:
            return text.encode()
    except tomllib.TOMLDecodeError:
        pass
    raise _by_hand(file, "its pages are written in a way that cannot be put in another order")


def _spaced(texts: list[str], others: list[str]) -> list[str]:
    """Texts of pages with an empty line between them, if there is one between any."""
    if not any(text.endswith("\n\n") for text in texts):
        return texts
    last = texts[-1].rstrip() + ("\n\n" if others else "\n")
    return [*(f"{text.rstrip()}\n\n" for text in texts[:-1]), last]


def _by_hand(file: TomlFile, came: str) -> InputError:
    allowed = "[[pages]] above each page, one after the other"
    return InputError(Problem((PAGES,), came, allowed, f"Write {allowed}.", file.path))


def _runs(order: Sequence[Piece]) -> list[Piece]:
    """Neighbours of one entry as one piece."""
    found: list[Piece] = []
    for key, run in groupby(order, key=lambda piece: (piece.index, piece.new)):
        pieces = [*run]
        count = sum(piece.count for piece in pieces)
        found.append(Piece(key[0], count, any(piece.first for piece in pieces), key[1]))
    return found


def _divided(file: TomlFile) -> tuple[str, list[str], list[str]]:
    """What stands before the pages, each page, and what stands between and behind them."""
    starts: list[tuple[int, str]] = []
    for node in parsed(file.text).named_children:
        if node.type in TABLES:
            names = names_of(node.named_children[0])
            opens = node.type != "table" and names == [PAGES]
            kind = "page" if opens else "inside" if names[0] == PAGES else "other"
            starts.append((with_comments(file.text, node.start_byte), kind))
    head, texts, others = file.text[: starts[0][0]] if starts else file.text, [], []
    ends = [*(start for start, _ in starts[1:]), len(file.text)][: len(starts)]
    before = ""
    for (start, kind), end in zip(starts, ends, strict=True):
        part = file.text[start:end].decode()
        if kind == "page":
            texts.append(part)
        elif kind == "inside" and before in ("page", "inside"):
            texts[-1] += part
        elif kind == "other" and not texts:
            head += part.encode()
        elif kind == "other":
            others.append(part)
        else:
            raise _by_hand(file, "tables of a page stand behind another table")
        before = kind
    if len(texts) != len(file.values[PAGES]):
        raise _by_hand(file, "its pages are one list in brackets")
    return head.decode(), texts, others


def _text(texts: list[str], piece: Piece, file: TomlFile) -> str:
    if piece.new:
        return piece.new
    text, values = texts[piece.index], file.values[PAGES][piece.index]
    if _values(piece, file) == [values]:
        return text
    import tomlkit  # only where an entry is divided

    document = tomlkit.parse(text)
    pages: Any = document[PAGES]
    table = pages[0]
    if piece.count > 1:
        table["count"] = piece.count
    else:
        table.pop("count", None)
    if not piece.first:
        for key in FIRST_ONLY:
            table.pop(key, None)
    return tomlkit.dumps(document)


def _values(piece: Piece, file: TomlFile) -> list[Any]:
    """What the text of a piece says."""
    if piece.new:
        found: list[Any] = tomllib.loads(piece.new)[PAGES]
        return found
    values = deepcopy(file.values[PAGES][piece.index])
    if piece.count != values.get("count", 1):
        values["count"] = piece.count
        if piece.count == 1:
            del values["count"]
    if not piece.first:
        for key in FIRST_ONLY:
            values.pop(key, None)
    return [values]
