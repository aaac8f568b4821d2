"""Page numbers and sides: which page is on which side, and what can be a spread.

In left-to-right books page 1 is a right page, in right-to-left books a left page (CSS Paged
Media 3, page progression). Facing pages are therefore 2 and 3, 4 and 5, and so on.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from guidekit.errors import InputError, Problem
from guidekit.issue.model import Issue, Page

Side = Literal["left", "right", "single", "spread"]
SIDES: tuple[Side, ...] = ("left", "right", "single", "spread")


@dataclass(frozen=True)
class PageEntry:
    """A page or spread to come: its page numbers in reading order, its side, what is on it.

    A scroll is one page, however many canvases it takes. `where` names the entry of the file that
    it comes from, for messages.
    """

    numbers: tuple[int, ...]
    side: Side
    page: Page
    where: str

    @property
    def called(self) -> str:
        """``page 4`` or ``pages 4 and 5``."""
        return called(self.numbers)


def called(numbers: tuple[int, ...], part: int | None = None) -> str:
    """How people say it: ``page 4``, ``pages 4 and 5``, ``page 4, part 1``."""
    words = f"page{'s' if len(numbers) > 1 else ''} {' and '.join(map(str, numbers))}"
    return words if part is None else f"{words}, part {part}"


def in_order(issue: Issue, facing: bool, direction: str) -> tuple[PageEntry, ...]:
    """All pages and spreads of an issue; raises `InputError` for spreads not on facing pages."""
    entries, problems, number = [], [], 1
    for index, page in enumerate(issue.pages, 1):
        where = f"pages[{index}]"
        for _ in range(page.count):
            if not page.spread:
                entries.append(PageEntry((number,), _side(number, facing, direction), page, where))
                number += 1
                continue
            pair = (number, number + 1)
            entries.append(PageEntry(pair, "spread", page, where))
            number += 2
            if not facing:
                problems.append(_no_spread(where, pair, "this preset has no facing pages"))
            elif pair[0] % 2:
                problems.append(_no_spread(where, pair, "these do not face each other"))
    if problems:
        raise InputError(problems)
    return tuple(entries)


def _side(number: int, facing: bool, direction: str) -> Side:
    if not facing:
        return "single"
    return "right" if (number % 2 == 1) == (direction == "ltr") else "left"


def _no_spread(where: str, pair: tuple[int, int], why: str) -> Problem:
    first, second = pair
    if "preset" in why:
        return Problem(
            f"{where}.spread",
            f"the spread would fall on pages {first} and {second}, and {why}",
            "spreads where the preset has facing = true",
            "Take another preset, or make it two pages.",
        )
    move = "move one page from before it to behind it" if first > 1 else "move it behind the next"
    before = f"{first - 1} and {first}, or " if first > 1 else ""
    return Problem(
        f"{where}.spread",
        f"the spread would fall on pages {first} and {second}, and {why}",
        f"an even page first: {before}{second} and {second + 1}",
        f"Put one page more before it, or {move}.",
    )
