"""The pages of an issue's file in another order, divided, put in and taken out.

Comments and the look of the file stay. Whatever comes out is read again and compared with what it
should say before it is used.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from guidekit.errors import InputError, Problem
from guidekit.toml import TomlFile
from guidekit.toml.rearrange import rearranged
from guidekit.toml.rewrite import rewritten

PAGES = "pages"
#: What only one of pages alike has when they are divided.
ONE_ONLY = ("section",)


@dataclass(frozen=True)
class PagesAlike:
    """So many pages alike of the entry at a place in the file.

    `first` is the piece that keeps what only one of them can have.
    """

    index: int
    count: int = 1
    first: bool = False


@dataclass(frozen=True)
class NewPage:
    """A page that the file has not, with panels of this name."""

    panels: str


Piece = PagesAlike | NewPage


def with_pages(file: TomlFile, order: Sequence[Piece]) -> bytes:
    """The text with its pages in this order; raises `InputError` where that cannot be done."""
    text = file.text.decode()
    values = tomllib.loads(text)  # what a series says is not the file's
    pieces = _runs(order, values[PAGES])
    there = [piece for piece in pieces if isinstance(piece, PagesAlike)]
    try:
        text = rearranged(text, PAGES, [piece.index for piece in there])
        for some in (there, pieces):  # one after the other, so that each is put beside its own
            text = rewritten(text, {**values, PAGES: [_value(x, values[PAGES]) for x in some]})
    except InputError:
        came = "its pages are written in a way that cannot be put in another order"
        allowed = "[[pages]] above each page, one after the other"
        todo = f"Write {allowed}."
        raise InputError(Problem((PAGES,), came, allowed, todo, file.path)) from None
    return text.encode()


def _runs(order: Sequence[Piece], pages: Sequence[Any]) -> list[Piece]:
    """Neighbours of one entry as one piece, where the entry can say how many there are."""
    found: list[Piece] = []
    for piece in order:
        last = found[-1] if found else None
        if (
            isinstance(piece, PagesAlike)
            and isinstance(last, PagesAlike)
            and last.index == piece.index
            and isinstance(pages[piece.index], dict)
        ):
            found[-1] = PagesAlike(piece.index, last.count + piece.count, last.first or piece.first)
        else:
            found.append(piece)
    return found


def _value(piece: Piece, pages: Sequence[Any]) -> Any:
    """What the entry of a piece says."""
    if isinstance(piece, NewPage):
        return {"panels": piece.panels}
    said = pages[piece.index]
    if not isinstance(said, dict):
        return said
    gone = {*(() if piece.first else ONE_ONLY), *(() if piece.count > 1 else ("count",))}
    if said.get("count", 1) == piece.count:
        gone.discard("count")
    elif piece.count > 1:
        said = {**said, "count": piece.count}
    return {key: value for key, value in said.items() if key not in gone}
