"""Whether a drawing can be of a page, by its panels; whether all parts of one can."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np

from guidekit.drawn.info import Info
from guidekit.geometry.page import PagePlan

NEAR = 0.1  # of the trim: gutters and margins change, arrangements do not so little


def likely(was: Info, plan: PagePlan) -> bool:
    """True if the page has as many panels, and all of their middles nearly where they were."""
    old = [_middle(panel["box"], was["trim"]) for panel in was.get("panels", []) if "box" in panel]
    trim = plan.boxes.trim.as_list()
    new = [_middle(panel.box.as_list(), trim) for panel in plan.panels]
    return len(old) == len(new) and all(
        abs(a - b) < NEAR
        for one, other in zip(old, new, strict=True)
        for a, b in zip(one, other, strict=True)
    )


def _middle(box: list[int], trim: list[int]) -> tuple[float, float]:
    """The middle of a box in parts of the trim."""
    x, y = ((box[i] + box[i + 2]) / 2 - trim[i] for i in (0, 1))
    return x / max(1, trim[2] - trim[0]), y / max(1, trim[3] - trim[1])


class Fit:
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
