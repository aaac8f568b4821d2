"""Page numbers and sides: which page is on which side, and what can be a spread.

In left-to-right books page 1 is a right page, in right-to-left books a left page (CSS Paged
Media 3, page progression). Facing pages are therefore 2 and 3, 4 and 5, and so on.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from guidekit.errors import InputError, Key, Problem, pages_called
from guidekit.issue.models.issue import Issue, Page

Side = Literal["left", "right", "single", "spread"]
SIDES: tuple[Side, ...] = ("left", "right", "single", "spread")


@dataclass(frozen=True)
class PageEntry:
    """A page or spread to come: its page numbers in reading order, its side, what is on it.

    A scroll is one page, however many canvases it takes. `key` leads to the entry of the file that
    it comes from.
    """

    numbers: tuple[int, ...]
    side: Side
    page: Page
    key: Key

    @property
    def called(self) -> str:
        """``page 4`` or ``pages 4 and 5``."""
        return called(self.numbers)


def called(numbers: tuple[int, ...], part: int | None = None) -> str:
    """How people say it: ``page 4``, ``pages 4 and 5``, ``page 4, part 1``."""
    words = pages_called(numbers)
    return words if part is None else f"{words}, part {part}"


def in_order(issue: Issue, facing: bool, direction: str) -> tuple[PageEntry, ...]:
    """All pages and spreads of an issue; raises `InputError` for spreads not on facing pages.

    Of entries alike only the first is told.
    """
    entries: list[PageEntry] = []
    problems: dict[Key, Problem] = {}
    number = 1
    for index, page in enumerate(issue.pages):
        key: Key = ("pages", index)
        if page.on_left and not facing:
            problems[key] = _no_sides(key)
        for _ in range(page.count):
            if not page.spread:
                side = _side(number, facing, direction)
                entries.append(PageEntry((number,), side, page.on(side), key))
                number += 1
                continue
            pair = (number, number + 1)
            entries.append(PageEntry(pair, "spread", page, key))
            number += 2
            if not facing or pair[0] % 2:
                problems.setdefault(key, _no_spread((*key, "spread"), pair, facing))
    if problems:
        raise InputError(problems.values())
    return tuple(entries)


def _side(number: int, facing: bool, direction: str) -> Side:
    if not facing:
        return "single"
    return "right" if (number % 2 == 1) == (direction == "ltr") else "left"


def _no_sides(key: Key) -> Problem:
    came = "this preset has no facing pages, so that none is a left or a right one"
    todo = "Take another preset, or write what is in on_left and on_right on the page itself."
    return Problem(key, came, "a preset that has facing = true", todo)


def _no_spread(key: Key, pair: tuple[int, int], facing: bool) -> Problem:
    first, second = pair
    came = f"a spread would fall on pages {first} and {second}, "
    if not facing:
        came += "and this preset has no facing pages"
        todo = "Take another preset, or make it two pages."
        return Problem(key, came, "a preset that has facing = true", todo, pages=pair)
    came += "which do not face each other"
    before = f"{first - 1} and {first}, or " if first > 1 else ""
    move = "move one page from before it to behind it" if first > 1 else "move it behind the next"
    allowed = f"{before}{second} and {second + 1}"
    todo = f"Put one page more before it, or {move}: pages {allowed} face each other."
    return Problem(key, came, allowed, todo, pages=pair)
