"""One page of a spread filled anew: what the spread has on the other page stays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from guidekit.errors import InputError, Problem
from guidekit.geometry.division.arrange import Arrangement
from guidekit.plane.box import Box
from guidekit.plane.outline import box_of

Letters = dict[str, tuple[int, ...]]  # the panels of each letter of a map


def on_one_page(found: Arrangement, page: Box) -> Arrangement:
    """What of an arrangement lies on one page of a spread.

    Raises `InputError` for a panel that lies on both.
    """
    places = {panel: box_of(panel.region.outline) for panel in found.panels}
    for panel, box in places.items():
        inside = box.clipped(replace(page, top=box.top, bottom=box.bottom))
        if not inside.is_empty and inside != box:
            came = f"panel {panel.number} runs across the fold, and one page alone is filled anew"
            todo = "Let a gutter of the spread lie there, or write halves."
            raise InputError(Problem((), came, "panels on either page", todo))
    kept = replace(page, top=found.frame.top, bottom=found.frame.bottom)
    return Arrangement(
        found.frame.clipped(kept),
        tuple(panel for panel, box in places.items() if kept.holds(box)),
        tuple(division for division in found.divisions if kept.holds(division.box)),
        tuple(region for region in found.empty if kept.holds(region.box)),
    )


def one_after_the_other(
    filled: Sequence[tuple[Sequence[Arrangement], Letters]],
) -> tuple[list[Arrangement], Letters]:
    """Pages in reading order, each with its own letters, their panels numbered on."""
    arranged: list[Arrangement] = []
    letters: Letters = {}
    count = 0
    for page, own in filled:
        old = sorted(panel.number for one in page for panel in one.panels)
        new = {number: count + n for n, number in enumerate(old, 1)}
        count += len(old)
        for one in page:
            panels = (replace(panel, number=new[panel.number]) for panel in one.panels)
            arranged.append(replace(one, panels=tuple(panels)))
        for letter, numbers in own.items():
            there = tuple(new[number] for number in numbers if number in new)
            letters[letter] = (*letters.get(letter, ()), *there)
    return arranged, {letter: numbers for letter, numbers in letters.items() if numbers}
