"""Which page of today a canvas is of, where pages were moved by hand in the issue's file.

The number that a page had when its guides were drawn, and its panels, are in each file and in the
record; nothing more tells who a page is. For all canvases together tell the order that the pages
had, and pages that are put in or taken out move those behind them all by as many: laid along the
order of today, they show where each has gone, pages alike too. That needs no name of a page in the
issue's file, where copied text would name two pages alike, and it works with files of any age.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Mapping, Sequence
from pathlib import PurePath
from typing import Any

import numpy as np

from guidekit.drawn.info import Info
from guidekit.drawn.standing.alike import NEAR, likely
from guidekit.drawn.standing.own_words import LAYERED, own_info, recorded_info
from guidekit.geometry.digest import PlanDigests
from guidekit.geometry.page import PagePlan
from guidekit.issue.file_names import is_page_of, page_file_name
from guidekit.issue.models.issue import MOST_PAGES
from guidekit.store.files import names_in
from guidekit.store.folder import Store

Numbers = tuple[int, ...]

#: What it costs to say that a page has other panels than it had, and that from one page to the next
#: the numbers move by something else; of equal ways the one is taken in which most pages stay.
OTHER, TURN, MOVED = 1.0, 1.2, 1e-6


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


def known_again(
    stood: Mapping[str, Info],
    plans: Sequence[PagePlan],
    digests: PlanDigests,
    is_blank: Callable[[str], bool],
) -> dict[str, PagePlan | None]:
    """The canvases whose page has another number now; None for one that is of no page any more.

    `plans` are all canvases of today. What tells of today's page, and is blank, for nobody drew on
    it, was built since pages were moved, or has not moved: it says nothing.
    """
    names = {plan.file_name: plan for plan in plans}
    now: dict[Numbers, list[PagePlan]] = {}
    for plan in plans:
        if plan.numbers:
            now.setdefault(plan.numbers, []).append(plan)
    fit = _Fit()
    was = _pages(stood)
    if all(numbers in now and fit(parts, now[numbers]) for numbers, parts in was.items()):
        return {}
    older = {
        canvas: info
        for canvas, info in stood.items()
        if canvas not in names
        or not is_of_now(info, names[canvas], digests)
        or not is_blank(canvas)
    }
    went = _went(_pages(older), now, fit) if older else {}
    found: dict[str, PagePlan | None] = {}
    for canvas, info in older.items():
        numbers, part = tuple(info["page"]["pages"]), info["page"].get("part")
        if went[numbers] != numbers:
            found[canvas] = next((p for p in now.get(went[numbers], ()) if p.part == part), None)
    return found


def _pages(stood: Mapping[str, Info]) -> dict[Numbers, list[Info]]:
    """The canvases of each page in the order of numbers; of a scroll all parts."""
    found: dict[Numbers, list[Info]] = {}
    pages = (info["page"] for info in stood.values())
    for page in sorted(pages, key=lambda page: (page["pages"], page.get("part") or 0)):
        found.setdefault(tuple(page["pages"]), []).append(page)
    return found


class _Fit:
    """Whether the panels of a page are those of a page of today; of pages alike asked once."""

    def __init__(self) -> None:
        self._known: dict[tuple[str, str], bool] = {}

    def __call__(self, pages: Sequence[Info], plans: Sequence[PagePlan]) -> bool:
        """True if they are in all parts."""
        key = _key_of_pages(pages), _key_of_plans(plans)
        if key not in self._known:
            alike = len(pages) == len(plans) and all(map(_is_alike, pages, plans))
            self._known[key] = alike
        return self._known[key]

    def each(self, was: Iterable[Sequence[Info]], now: Iterable[Sequence[PagePlan]]) -> Any:
        """The same of all old pages, one a row, with all of today."""
        rows, columns = [(_key_of_pages(x), x) for x in was], [(_key_of_plans(x), x) for x in now]
        old, new = dict(rows), dict(columns)
        alike = np.array([[self(pages, plans) for plans in new.values()] for pages in old.values()])
        at_row, at_column = ({key: n for n, key in enumerate(some)} for some in (old, new))
        return alike[
            np.ix_([at_row[key] for key, _ in rows], [at_column[key] for key, _ in columns])
        ]


def _key_of_pages(pages: Sequence[Info]) -> str:
    told = [(len(x["pages"]), x.get("part"), x["trim"], x.get("panels")) for x in pages]
    return repr(told)


def _key_of_plans(plans: Sequence[PagePlan]) -> str:
    return repr(
        [(len(x.numbers), x.part, x.boxes.trim, [panel.box for panel in x.panels]) for x in plans]
    )


def _is_alike(page: Info, plan: PagePlan) -> bool:
    if len(page["pages"]) != len(plan.numbers) or page.get("part") != plan.part:
        return False
    return likely(page, plan) and (plan.part is None or _as_tall(page, plan))


def _as_tall(page: Info, plan: PagePlan) -> bool:
    """True if a part of a scroll has the height that it had."""
    left, top, right, bottom = page["trim"]
    trim = plan.boxes.trim
    return bool(
        abs((bottom - top) * trim.width / (right - left) - trim.height) < NEAR * trim.height
    )


def _went(
    was: Mapping[Numbers, Sequence[Info]], now: Mapping[Numbers, Sequence[PagePlan]], fit: _Fit
) -> dict[Numbers, Numbers]:
    """The numbers of today for old ones; none for what is of no page any more."""
    starts = {numbers[0]: numbers for numbers in now}
    fits = np.zeros((len(was), max(starts) + 1), bool)
    fits[:, [*starts]] = fit.each(was.values(), now.values())
    steps = _steps(np.array([numbers[0] for numbers in was]), fits)
    rows = dict(enumerate(zip(was, steps, strict=True)))
    found: dict[Numbers, Numbers] = {}

    def settle(row: int, start: int) -> None:
        found[rows.pop(row)[0]] = starts.pop(start)

    shifts = {0}
    for row, (numbers, start) in [*rows.items()]:
        if fits[row, start] and start in starts:
            shifts.add(start - numbers[0])
            settle(row, start)
    for start in [*starts]:  # what was taken from its place, and is the only one of its panels
        alike = [row for row in rows if fits[row, start]]
        if len(alike) == 1 and sum(fits[alike[0], other] for other in starts) == 1:
            settle(alike[0], start)
    for row, (numbers, start) in [*rows.items()]:  # other panels, in its place among the others
        if start in starts and start - numbers[0] in shifts:
            settle(row, start)
    for row, (_, start) in [*rows.items()]:  # its place is taken: the nearest that is alike
        if alike := [other for other in starts if fits[row, other]]:
            settle(row, min((abs(other - start), other) for other in alike)[1])
    for row, (numbers, _) in [*rows.items()]:
        if numbers[0] in starts:
            settle(row, numbers[0])
    return found | {numbers: () for numbers, _ in rows.values()}


def _steps(firsts: Any, fits: Any) -> list[int]:
    """A number of today for each old one, never backward, at the least cost."""
    size = fits.shape[1]
    places = np.arange(size)

    def cost_of(row: int) -> Any:
        return np.where(fits[row], 0, OTHER) + np.where(places == firsts[row], 0, MOVED)

    cost, back = cost_of(0) + np.where(places == firsts[0], 0, TURN), [places]
    for row in range(1, len(firsts)):
        gap = min(int(firsts[row] - firsts[row - 1]), size)
        along = np.concatenate([np.full(gap, np.inf), cost[: size - gap]])
        least = np.minimum.accumulate(cost)
        where = np.maximum.accumulate(np.where(cost == least, places, 0))
        back.append(np.where(along <= least + TURN, places - gap, where))
        cost = np.minimum(along, least + TURN) + cost_of(row)
    found = [int(np.argmin(cost))]
    for row in range(len(firsts) - 1, 0, -1):
        found.append(int(back[row][found[-1]]))
    return found[::-1]
