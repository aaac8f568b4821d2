"""Where pages have gone, by the order that they had, laid along the order of today."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from guidekit.drawn.info import Info
from guidekit.drawn.standing.alike import Fit
from guidekit.geometry.page import PagePlan

Numbers = tuple[int, ...]

#: What it costs to say that a page has other panels than it had, and that from one page to the next
#: the numbers move by something else; of equal ways the one is taken in which most pages stay.
OTHER, TURN, MOVED = 1.0, 1.2, 1e-6


def by_numbers(plans: Sequence[PagePlan]) -> dict[Numbers, list[PagePlan]]:
    """The canvases of each page, but for those of the cover."""
    found: dict[Numbers, list[PagePlan]] = {}
    for plan in plans:
        if plan.numbers:
            found.setdefault(plan.numbers, []).append(plan)
    return found


def gone_to(
    was: Mapping[Numbers, Sequence[Info]], now: Mapping[Numbers, Sequence[PagePlan]], fit: Fit
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
    ends = np.flatnonzero(cost == cost.min())
    found = [int(ends[np.argmin(abs(ends - firsts[-1]))])]  # of equal ways the shortest
    for row in range(len(firsts) - 1, 0, -1):
        found.append(int(back[row][found[-1]]))
    return found[::-1]
