"""What was told of each page when its guides were drawn."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import PurePath

from guidekit.drawn.info import Info
from guidekit.drawn.standing.own_words import LAYERED, own_info, recorded_info
from guidekit.geometry.digest import PlanDigests
from guidekit.geometry.page import PagePlan
from guidekit.issue.file_names import is_page_of, page_file_name
from guidekit.issue.models.issue import MOST_PAGES
from guidekit.store.files import names_in
from guidekit.store.folder import Store


def stood_in(store: Store, issue_name: str, as_written: Collection[str] = ()) -> dict[str, Info]:
    """What was told of each page of an issue when its guides were drawn, by canvas.

    Files tell it, or the record, which is enough for those of which is known that they are
    `as_written`. A file that has another name now is left out: who gave it that has said which page
    it is. Raises `OSError`.
    """
    found: dict[str, Info] = {}
    for name in sorted(names_in(store.folder)):
        path = PurePath(name)
        if path.suffix.lower() not in LAYERED or not is_page_of(issue_name, path.stem):
            continue
        if store.is_of_another_issue(name):
            continue
        info = None if name in as_written else own_info(store.folder / name)
        info = info or recorded_info(store, store.entry(name))
        if info and _is_its_name(info["page"], issue_name, path.stem):
            found[path.stem] = info
    return found


def _is_its_name(page: Info, issue_name: str, name: str) -> bool:
    """True for what tells that it is of the page, or the part of one, whose name it has."""
    numbers, part = page["pages"], page.get("part")
    if not numbers or max(numbers) > MOST_PAGES or not isinstance(part, int | None):
        return False
    return page_file_name(issue_name, tuple(numbers), part) == name


def is_of_now(info: Info | None, plan: PagePlan, digests: PlanDigests) -> bool:
    """True if what was told of a canvas is what is told of it today."""
    if not info or info.get("plan") != digests.of(plan):
        return False
    pages: list[int] = info["page"]["pages"]
    return pages == list(plan.numbers)
