"""The new name of every canvas, and what is told of pages that move with them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import NamedTuple

from guidekit.drawn.standing.order import by_numbers
from guidekit.errors import pages_called
from guidekit.geometry.page import PagePlan

#: The new name of each canvas, None for one of a page that there is no more.
Canvases = dict[str, str | None]


def canvases_after(
    plans: Sequence[PagePlan],
    new: Sequence[PagePlan],
    order: Sequence[tuple[int, ...] | None],
) -> Canvases:
    """The new name of every canvas.

    `order` has for each page of the `new` plans the numbers that it has now, None for a new one.
    """
    old_parts, new_parts = by_numbers(plans), by_numbers(new)
    found: Canvases = {p.file_name: None if p.numbers else p.file_name for p in plans}
    for was, numbers in zip(order, new_parts, strict=True):
        if was is not None:
            pairs = zip(old_parts[was], new_parts[numbers], strict=True)
            found |= {one.file_name: other.file_name for one, other in pairs}
    return found


class Stood(NamedTuple):
    """What a page was: its numbers in reading order, and its side."""

    numbers: tuple[int, ...]
    side: str


def told_moves(
    stood: Mapping[str, Stood], plans: Sequence[PagePlan], canvases: Canvases
) -> Iterator[str]:
    """Pages whose numbers change, in their new order, and those that come or go, in words."""
    comes = {name: canvas for canvas, name in canvases.items() if name}
    named = any(plan.file_name in comes for plan in plans)  # else they have another issue's name
    for plan in plans if named else ():
        was = stood.get(comes.get(plan.file_name, ""))
        if plan.numbers and plan.file_name not in comes:
            yield f"{_are(plan.numbers)} new"
        elif was and was.numbers != plan.numbers:
            turned = {was.side, plan.side} == {"left", "right"}
            mirror = f", now on the {plan.side}: its guides are mirrored, and the art is not"
            yield f"{pages_called(was.numbers)} → {pages_called(plan.numbers)}{mirror * turned}"
    for canvas, name in canvases.items():
        if name is None and canvas in stood:
            yield f"{_are(stood[canvas].numbers)} taken out"


def _are(numbers: tuple[int, ...]) -> str:
    return f"{pages_called(numbers)} {'is' if len(numbers) == 1 else 'are'}"
