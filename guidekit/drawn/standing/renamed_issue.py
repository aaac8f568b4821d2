"""Files of an issue whose title or `file_name` has changed since: they begin with another name.

Only what the record has is known so, and only where all of it stands for pages of today.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from guidekit.drawn.info import Info
from guidekit.drawn.standing.alike import likely
from guidekit.drawn.standing.own_words import recorded_info
from guidekit.geometry.page import PagePlan
from guidekit.issue.file_names import page_file_name
from guidekit.store.folder import Store
from guidekit.store.record import FileEntry


def under_other_name(
    store: Store,
    there: Iterable[FileEntry],
    plans: Sequence[PagePlan],
    issue_name: str,
    is_blank: Callable[[str], bool],
) -> dict[str, PagePlan]:
    """The page of today of each canvas that stands under another name of the issue.

    `there` is what the record has of the files that are there. Empty if they have today's name,
    and if it cannot be said of all: they have several names, one has no page of its number with
    its panels, or somebody has drawn under today's name.
    """
    by_ending = {plan.file_name.removeprefix(issue_name): plan for plan in plans}
    now = {plan.file_name for plan in plans}
    told = {entry.canvas: recorded_info(store, entry) for entry in there}
    others = {canvas: info["page"] for canvas, info in told.items() if info and canvas not in now}
    names = {_name(canvas, page) for canvas, page in others.items() if page["pages"]}
    if len(names) != 1 or not told.keys() <= others.keys() | now:
        return {}
    (name,) = names
    found = {canvas: by_ending.get(canvas.removeprefix(name)) for canvas in others}
    sure = {c: plan for c, plan in found.items() if plan and likely(others[c], plan)}
    every = bool(name) and len(sure) == len(others)
    return sure if every and all(map(is_blank, now & told.keys())) else {}


def _name(canvas: str, page: Info) -> str:
    """What a canvas begins with; empty if it is not called as its page."""
    ending = page_file_name("", tuple(page["pages"]), page.get("part"))
    return canvas.removesuffix(ending) if canvas.endswith(ending) else ""
