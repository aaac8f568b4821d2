"""The numbers of panels as they are printed on a page, and what the page says under them.

An inset is read after the last of the panels that it lies over, or where it says, and takes the
next number; panels behind it count on from there. One that lies over no panel is read last. What is
said of panel 3 is said of the panel that has the number 3 on the page. That is never a circle: an
inset moves only numbers behind those that it names, and one that is read before panel 3 is panel 2.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from guidekit.errors import InputError, Key, Problem, one_of, shown
from guidekit.issue.models.issue import Page
from guidekit.issue.models.panel import Inset, PanelModel


@dataclass(frozen=True)
class PanelEntry:
    """What a page says of one panel, and the name under which it does."""

    name: str
    model: PanelModel


@dataclass(frozen=True)
class NumberedInset:
    """An inset, its number, the numbers of the panels it lies over, its place in the list."""

    inset: Inset
    number: int
    over: frozenset[int]
    index: int

    @property
    def key(self) -> Key:
        """Leads to it on its page."""
        return ("insets", self.index)


class Numbering(NamedTuple):
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
    count.end()
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
            i,
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
        self.waiting: dict[int, set[str]] = {}  # for which panels an inset waits
        self.before: dict[str, list[int]] = {}  # the insets that are read before each panel
        self.last: list[int] = []
        for i, inset in enumerate(page.insets):
            if inset.read_before:
                self.before.setdefault(inset.read_before, []).append(i)
            elif inset.read_after:
                self.waiting[i] = {inset.read_after}
            elif inset.over:
                self.waiting[i] = {*inset.over}
            else:
                self.last.append(i)

    def next(self) -> int:
        return len(self.printed) + len(self.insets) + 1

    def read(self, panel: int) -> None:
        """Number the next panel of the layout, and the insets that are read right by it."""
        own = {self.letter_of[panel]} if panel in self.letter_of else set[str]()
        behind = (name for name in self.before if name in own or self._is_next_but(name))
        if name := next(behind, None):
            self._give(self.before.pop(name))
        number = self.next()
        self.printed.append(number)
        names = own | ({str(number)} - self.letters.keys())  # a digit in a map is a letter
        self.named |= dict.fromkeys(names, number)
        for index, below in [*self.waiting.items()]:
            below -= names
            if not below:
                del self.waiting[index]
                self._give([index])

    def end(self) -> None:
        """Number the insets that are read last."""
        self._give(self.last)

    def _give(self, insets: Iterable[int]) -> None:
        for index in insets:
            self.insets[index] = self.next()

    def _is_next_but(self, name: str) -> bool:
        """Whether a panel has this number if all insets that are read before it come first."""
        return name not in self.letters and name == str(self.next() + len(self.before[name]))

    def wrong_names(self) -> Iterator[Problem]:
        """Every name that is no panel's."""
        for key in self.page.panel:
            if key not in self.named:
                yield self._wrong(("panel", key), key)
        for index, inset in enumerate(self.page.insets):
            read = ("read_after", inset.read_after), ("read_before", inset.read_before)
            named = [*(("over", key) for key in inset.over), *((k, v) for k, v in read if v)]
            for key, name in named:
                if name not in self.named:
                    yield self._wrong(("insets", index, key), name)
            if inset.read_before in self.before and inset.read_before in self.named:
                yield _not_before(("insets", index, "read_before"), inset.read_before)

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


def _not_before(key: Key, name: str) -> Problem:
    came = f"with an inset before it, the panel that has the number {name} has another one"
    allowed = "the number that the panel behind the inset has on the page"
    return Problem(key, came, allowed, f"Write {int(name) + 1}: {allowed}.")


def _twice(first: str, second: str) -> Problem:
    came = f"panel.{first} and panel.{second} are the same panel"
    return Problem(("panel", second), came, "one entry for each panel", "Put both into one.")
