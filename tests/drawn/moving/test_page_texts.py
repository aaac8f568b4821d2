"""The pages of an issue's file in another order: its comments and its spelling stay."""

import re
import tomllib
from collections.abc import Sequence
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.drawn_book import ISSUE

from guidekit.drawn.moving.page_texts import NewPage, PagesAlike, Piece, with_pages
from guidekit.toml.file import toml_in

BOOK = ISSUE.replace("a long talk\n", 'a long talk\nsection = "Talk"\n')
INLINE = """\
title = "The Tin Kite"
pages = [
  # the opening
  {panels = "splash"},
  { count = 5, section = "Talk", tiers = [2, 3, 1] },   # a long talk
  { tiers = [1, 2], panel.2.border = false },  # the fight
  { spread = true, tiers = [1, 2] }
]   # and no more
preset = "us-comic"
"""
ENTRY_OF = [0, *[1] * 5, 2, 3, 3]  # of each page
ONE_ONLY = {"count", "section"}


def in_order(text: str, pieces: Sequence[Piece]) -> str:
    """The text with its pages as these pieces."""
    return with_pages(toml_in(Path("issue.toml"), text.encode()), pieces).decode()


orders = st.lists(st.integers(0, 8), min_size=1, max_size=9)


@pytest.mark.parametrize("text", [BOOK, INLINE, BOOK.replace("\n", "\r\n")])
@given(orders)
def test_any_order(text: str, order: list[int]) -> None:
    """Whatever order pages are put in, the text says just that; comments are not said twice."""
    after = in_order(text, [PagesAlike(ENTRY_OF[page]) for page in order])
    values, meant = tomllib.loads(after), tomllib.loads(text)
    alike = [page for page in values.pop("pages") for _ in range(page.pop("count", 1))]
    entries = [{k: v for k, v in p.items() if k not in ONE_ONLY} for p in meant.pop("pages")]
    assert alike == [entries[ENTRY_OF[page]] for page in order]
    assert values == meant
    comments = re.findall("#.*", after)
    assert set(comments) <= set(re.findall("#.*", text))
    assert comments.count("# the opening") <= 1


def test_spelling_of_an_inline_list() -> None:
    """Entries in brackets keep their spelling and their lines; comments stay where they are."""
    order: list[Piece] = [
        PagesAlike(0),
        PagesAlike(1, first=True),
        PagesAlike(2),
        PagesAlike(1, 4),
        NewPage("six-grid"),
    ]
    assert (
        in_order(INLINE, [*order, PagesAlike(3)])
        == """\
title = "The Tin Kite"
pages = [
  # the opening
  {panels = "splash"},
  { section = "Talk", tiers = [2, 3, 1] },   # a long talk
  { tiers = [1, 2], panel.2.border = false },  # the fight
  { count = 4, tiers = [2, 3, 1] },
  { panels = "six-grid" },
  { spread = true, tiers = [1, 2] }
]   # and no more
preset = "us-comic"
"""
    )


def test_entries_that_are_no_tables() -> None:
    """An entry that is a name alone says no count, and is written as often as it is there."""
    text = 'pages = ["splash", {tiers = [1, 2]}]\n'
    assert in_order(text, [PagesAlike(0), PagesAlike(0), PagesAlike(1)]) == (
        'pages = ["splash", "splash", {tiers = [1, 2]}]\n'
    )


def test_what_only_one_page_says() -> None:
    """A section begins on one of the pages into which its entry is divided, and on no other."""
    after = in_order(BOOK, [PagesAlike(1, 2, first=True), PagesAlike(0), PagesAlike(1, 3)])
    assert [page.get("section") for page in tomllib.loads(after)["pages"]] == ["Talk", None, None]
