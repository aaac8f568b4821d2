"""Pages added, moved, copied and taken away: the entries of an issue's file in another order."""

from __future__ import annotations

import tomllib
from typing import Any

from guidekit.errors import InputError, Problem
from guidekit.planner import changes as asked
from guidekit.planner.draft import Draft
from guidekit.toml.rearrange import rearranged
from guidekit.toml.rewrite import rewritten

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
    return _apart(book, change)


def _added(book: Draft, change: asked.AddPages) -> str:
    pages = book.pages
    behind = min(change.behind, len(pages) - 1)
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
