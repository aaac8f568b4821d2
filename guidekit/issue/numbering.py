"""The numbers of panels as they are printed on a page, and what the page says under them.

An inset is read after the last of the panels that it lies over, and takes the next number; panels
behind it count on from there. What is said of panel 3 is said of the panel that has the number 3 on
the page. That is never a circle: an inset moves only numbers behind those that it names.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from guidekit.errors import InputError, Key, Problem, one_of, shown
from guidekit.issue.model import Page
from guidekit.issue.panel_model import Inset, PanelModel


@dataclass(frozen=True)
class PanelEntry:
    """What a page says of one panel, and the name under which it does."""

    name: str
    model: PanelModel


@dataclass(frozen=True)
class NumberedInset:
    """An inset, its number, the numbers of the panels it lies over, its key on the page."""

    inset: Inset
    number: int
    over: frozenset[int]
    key: Key


@dataclass(frozen=True)
class Numbering:
    """The printed number of each panel of the layout in order, the insets, what is said of panels.

    `entries` go by printed number.
    """

    panels: tuple[int, ...]
    insets: tuple[NumberedInset, ...] = ()
    entries: Mapping[int, PanelEntry] = field(default_factory=dict)


def numbered(page: Page, panels: int, letters: Mapping[str, tuple[int, ...]]) -> Numbering:
    """Number the panels of a page: so many of its layout, and its insets.

    `letters` hold the panels of each letter, counted in the layout. Raises `InputError` for names
    that no panel has, that several have, and for two entries of one panel.
    """
    count = _Count(page, letters)
    for panel in range(1, panels + 1):
        count.read(panel)
    problems = [*count.wrong_names()]
    entries: dict[int, PanelEntry] = {}
    for key, model in page.panel.items():
        number = count.named.get(key)
        if number in entries:
            problems.append(_twice(entries[number].name, key))
        elif number:
            entries[number] = PanelEntry(key, model)
    if problems:
        raise InputError(problems)
    insets = tuple(
        NumberedInset(
            inset,
            count.insets[i],
            frozenset(count.named[key] for key in inset.over),
            ("insets", i),
        )
        for i, inset in enumerate(page.insets)
    )
    return Numbering(tuple(count.printed), insets, entries)


class _Count:
    """Numbers given out one after the other, to the panels of a layout and insets as they come."""

    def __init__(self, page: Page, letters: Mapping[str, tuple[int, ...]]):
        self.page = page
        self.letters = letters
        self.letter_of = {panels[0]: x for x, panels in letters.items() if len(panels) == 1}
        self.printed: list[int] = []
        self.named: dict[str, int] = {}  # the number of each panel by all its names
        self.insets: dict[int, int] = {}  # the number of each inset by its index
        self.waiting = {i: set(inset.over) for i, inset in enumerate(page.insets)}

    def next(self) -> int:
        return len(self.printed) + len(self.insets) + 1

    def read(self, panel: int) -> None:
        """Number the next panel of the layout, and the insets that are read right after it."""
        number = self.next()
        self.printed.append(number)
        names = {str(number)} - self.letters.keys()  # a digit in a map is a letter
        if panel in self.letter_of:
            names.add(self.letter_of[panel])
        self.named |= dict.fromkeys(names, number)
        for index, below in [*self.waiting.items()]:
            below -= names
            if not below:
                del self.waiting[index]
                self.insets[index] = self.next()

    def wrong_names(self) -> Iterator[Problem]:
        """Every name that is no panel's."""
        for key in self.page.panel:
            if key not in self.named:
                yield self._wrong(("panel", key), key)
        for index, inset in enumerate(self.page.insets):
            for key in inset.over:
                if key not in self.named:
                    yield self._wrong(("insets", index, "over"), key)

    def _wrong(self, where: Key, name: str) -> Problem:
        if name in self.letters:
            numbers = " and ".join(map(str, (self.printed[i - 1] for i in self.letters[name])))
            came = f"several panels have the letter {shown(name)}, for the page has several maps"
            todo = f"Take another letter in one of the maps, or one of the numbers {numbers}."
            return Problem(where, came, "a letter that one panel has, or a number", todo)
        for index, number in self.insets.items():
            if name == str(number):
                came = f"number {name} on the page is an inset, insets[{index + 1}]"
                allowed = self._known()
                todo = f"Write {allowed}; what is special about an inset stands with the inset."
                return Problem(where, came, allowed, todo)
        return Problem(where, f"there is no panel {shown(name)} on the page", self._known())

    def _known(self) -> str:
        if self.letters:
            return one_of(self.letter_of.values())
        last = self.next() - 1
        known = f"a number from 1 to {last}" if last > 1 else "1"
        taken = " and ".join(map(str, sorted(self.insets.values())))
        return f"{known}, but for {taken}" if taken else known


def _twice(first: str, second: str) -> Problem:
    came = f"panel.{first} and panel.{second} are the same panel"
    return Problem(("panel", second), came, "one entry for each panel", "Put both into one.")
