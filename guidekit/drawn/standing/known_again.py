"""Which page of today a canvas is of, where pages were moved by hand in the issue's file.

The number that a page had when its guides were drawn, and its panels, are in each file and in the
record; nothing more tells who a page is. For all canvases together tell the order that the pages
had, and pages that are put in or taken out move those behind them all by as many: laid along the
order of today, they show where each has gone, pages alike too. That needs no name of a page in the
issue's file, where copied text would name two pages alike, and it works with files of any age.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from guidekit.drawn.info import Info
from guidekit.drawn.standing.alike import Fit
from guidekit.drawn.standing.order import Numbers, by_numbers, gone_to
from guidekit.drawn.standing.stood import is_of_now
from guidekit.geometry.digest import PlanDigests
from guidekit.geometry.page import PagePlan
from guidekit.wording import call


def known_again(
    stood: Mapping[str, Info],
    plans: Sequence[PagePlan],
    digests: PlanDigests,
    is_blank: Callable[[str], bool],
) -> dict[str, PagePlan | None]:
    """The canvases whose page has another number now; None for one that is of no page any more.

    `plans` are all canvases of today. What tells of today's page, and is blank, for nobody drew on
    it, was built since pages were moved, or has not moved: it says nothing. Blank ones alone have
    not gone anywhere: a build makes them anew.
    """
    names = {plan.file_name: plan for plan in plans}
    now, fit = by_numbers(plans), Fit()
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
    went = gone_to(_pages(older), now, fit) if older else {}
    found: dict[str, PagePlan | None] = {}
    for canvas, info in older.items():
        numbers, part = tuple(info["page"]["pages"]), info["page"].get("part")
        if went[numbers] != numbers:
            found[canvas] = next((p for p in now.get(went[numbers], ()) if p.part == part), None)
    return {} if all(map(is_blank, found)) else found


def to_follow(issue: str | Path, out: str | Path | None) -> str:
    """How to let files follow their pages, as a call; `out` as it was given."""
    place = {} if out is None else {"out": str(out)}
    return call("follow_pages", str(issue), **place)


def _pages(stood: Mapping[str, Info]) -> dict[Numbers, list[Info]]:
    """The canvases of each page in the order of numbers; of a scroll all parts."""
    found: dict[Numbers, list[Info]] = {}
    pages = (info["page"] for info in stood.values())
    for page in sorted(pages, key=lambda page: (page["pages"], page.get("part") or 0)):
        found.setdefault(tuple(page["pages"]), []).append(page)
    return found
