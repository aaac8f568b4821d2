"""Pages added, moved, copied and taken away: the entries of an issue's file in another order."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from typing import Any

from guidekit.errors import InputError, Problem
from guidekit.planner import changes as asked
from guidekit.planner.draft import Draft
from guidekit.planner.edits.spreads import halved, merged
from guidekit.toml.rearrange import rearranged
from guidekit.toml.rewrite import rewritten

#: For each page of a text the numbers that it has in another one, None where it is not in there.
Order = tuple[tuple[int, ...] | None, ...]

NEW_PAGE = {"tiers": [2, 2, 2]}
NEW_SPREAD = {"spread": True, "tiers": [1, 3]}


def after_list_change(book: Draft, change: asked.ListChange) -> str:
    """The text after a change of which pages there are; raises `InputError`."""
    if isinstance(change, asked.AddPages):
        return _added(book, change)
    text, count = book.text, len(book.pages)
    order = [*range(count)]
    if change.page >= count:
        raise InputError(Problem((), "there is no such page"))
    if isinstance(change, asked.MovePage):
        if change.to >= count:
            raise InputError(Problem((), "there is no such place"))
        order.insert(change.to, order.pop(change.page))
        return rearranged(text, "pages", order)
    if isinstance(change, asked.DeletePage):
        if count == 1:
            raise InputError(Problem((), "an issue has at least one page"))
        del order[change.page]
        return rearranged(text, "pages", order)
    if isinstance(change, asked.Apart):
        return _apart(book, change)
    return _facing(book, change)


def _added(book: Draft, change: asked.AddPages) -> str:
    pages, behind = book.pages, change.behind
    if behind >= len(pages):
        raise InputError(Problem((), "there is no such page"))
    order = [*range(len(pages))]
    if change.copy_it and behind >= 0:
        order.insert(behind + 1, behind)
        return rearranged(book.text, "pages", order)
    new: dict[str, Any] = dict(NEW_SPREAD if change.spread else NEW_PAGE)
    if change.count > 1:
        new = {"count": change.count, **new}
    after = [*pages[: behind + 1], new, *pages[behind + 1 :]]
    return rewritten(book.text, {**book.values, "pages": after})


def _apart(book: Draft, change: asked.Apart) -> str:
    """An entry of pages alike in up to three: those before one of them, itself, those behind."""
    count = book.sound_entry(change.page).page.count
    if change.nth >= count:
        raise InputError(Problem((), "there is no such page"))
    counts = [n for n in (change.nth, 1, count - change.nth - 1) if n]
    order = [*range(len(book.pages))]
    order[change.page : change.page + 1] = [change.page] * len(counts)
    text = rearranged(book.text, "pages", order)
    values = tomllib.loads(text)
    for i, number in enumerate(counts, change.page):
        own = {key: said for key, said in values["pages"][i].items() if key != "count"}
        values["pages"][i] = {"count": number, **own} if number > 1 else own
    return rewritten(text, values)


def _facing(book: Draft, change: asked.Merge | asked.Halve) -> str:
    """Two facing pages as one spread, or a spread as two pages."""
    here, pages = change.page, book.pages
    sheet = book.sheet(here)
    if isinstance(change, asked.Halve):
        new, gone = halved(sheet), 1
    else:
        if here + 1 >= len(pages):
            raise InputError(Problem((), "no page follows this one"))
        new, gone = merged([sheet, book.sheet(here + 1)], book.direction), 2
    text = rearranged(
        book.text, "pages", [*range(here), *[here] * len(new), *range(here + gone, len(pages))]
    )
    return rewritten(text, {**book.values, "pages": [*pages[:here], *new, *pages[here + gone :]]})


def order_after(book: Draft, change: asked.Change) -> Order | None:
    """Where each page is now that a change leaves or makes; None if all stay where they are."""
    entries = book.loaded.entries if book.loaded else ()
    pages: list[list[tuple[int, ...] | None]] = [
        [entry.numbers for entry in entries if entry.key == ("pages", i)]
        for i in range(len(book.pages))
    ]
    if isinstance(change, asked.MovePage):
        pages.insert(change.to, pages.pop(change.page))
    elif isinstance(change, asked.DeletePage):
        del pages[change.page]
    elif isinstance(change, asked.AddPages):
        like = len(pages[change.behind]) if change.copy_it and change.behind >= 0 else change.count
        pages.insert(change.behind + 1, [None] * like)
    elif isinstance(change, asked.Merge):
        pages[change.page : change.page + 2] = [[None]]
    elif isinstance(change, asked.Halve):
        pages[change.page] = [None, None]
    elif isinstance(change, asked.Put) and change.key == ["count"]:
        count = change.value if isinstance(change.value, int) else 1
        there = pages[change.page]
        pages[change.page] = [*there[:count], *[None] * (count - len(there))]
    else:
        return None
    return tuple(page for entry in pages for page in entry)


def way_back(
    order: Order, before: Sequence[tuple[int, ...]], now: Sequence[tuple[int, ...]]
) -> Order:
    """The other way round: for each page `before` the numbers that it has `now`."""
    return tuple(now[order.index(page)] if page in order else None for page in before)
