"""An issue as its text says: sound pages are laid out even if others are not."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property
from hashlib import sha256
from pathlib import Path
from typing import Any

from guidekit.errors import InputError, Problem
from guidekit.geometry.plan import in_issue
from guidekit.geometry.rules import Rules, rules_of
from guidekit.issue import LoadedIssue
from guidekit.issue.load import loaded
from guidekit.issue.models.by_side import names_sides
from guidekit.issue.order import PageEntry
from guidekit.planner.edits.sides import values_on, with_values_on
from guidekit.planner.edits.spots import Values
from guidekit.planner.planned_page import PlannedPage, sheet_of
from guidekit.shipped import FullCatalogue
from guidekit.toml import Origin, TomlFile, located
from guidekit.toml.file import toml_in


@dataclass(frozen=True)
class Draft:
    """An issue as its text says: pages that are sound are laid out even if others are not.

    `loaded` is None if not even the preset or the book as a whole can be read.
    """

    text: str
    values: Values
    loaded: LoadedIssue | None
    problems: tuple[Problem, ...] = ()

    @cached_property
    def version(self) -> str:
        """A short name of this very text."""
        return version_of(self.text)

    @cached_property
    def rules(self) -> Rules:
        """What its pages are laid out by."""
        assert self.loaded
        return rules_of(self.loaded)

    @property
    def direction(self) -> str:
        """``ltr`` or ``rtl``."""
        assert self.loaded
        return self.loaded.direction

    @property
    def numbers(self) -> tuple[tuple[int, ...], ...]:
        """The numbers of each page and spread, in order."""
        return tuple(entry.numbers for entry in self.loaded.entries) if self.loaded else ()

    @property
    def unit(self) -> str:
        """The unit that its page format is given in."""
        assert self.loaded
        return self.loaded.preset.page_size.width.unit

    @property
    def pages(self) -> list[Any]:
        """The entries of ``[[pages]]``."""
        pages = self.values.get("pages", [])
        return pages if isinstance(pages, list) else []

    def entry(self, page: int, side: str | None = None) -> PageEntry:
        """The first page of an entry of the file, or the first on a side; raises `InputError`."""
        for entry in self.loaded.entries if self.loaded else ():
            if entry.key == ("pages", page) and side in (None, entry.side):
                return entry
        raise InputError(Problem((), "there is no such page"))

    def problems_at(self, entry: PageEntry) -> tuple[Problem, ...]:
        """What is wrong in an entry as far as it shows before its page is laid out."""
        return tuple(problem for problem in self.problems if problem.key[:2] == entry.key)

    def sound_entry(self, page: int, side: str | None = None) -> PageEntry:
        """The same of an entry that can be read; raises `InputError` with what is wrong in it."""
        entry = self.entry(page, side)
        if own := self.problems_at(entry):
            raise InputError(own)
        return entry

    def sheet(self, page: int, side: str | None = None) -> PlannedPage:
        """The first page of an entry laid out, or the first on a side; raises `InputError`."""
        if (page, side) not in self._sheets:
            entry = self.sound_entry(page, side)
            values = values_on(self.pages[page], entry.side)
            self._sheets[page, side] = sheet_of(entry, values, self.rules)
        return self._sheets[page, side]

    def sides(self, page: int) -> list[str]:
        """The sides on which pages of an entry lie that differ by side; none of any other."""
        if not self.loaded or not names_sides(self.pages[page]):
            return []
        return sorted({entry.side for entry in self.loaded.entries if entry.key[1] == page})

    def with_page(self, sheet: PlannedPage, values: Values) -> list[Any]:
        """The entries of ``[[pages]]`` after one was changed, on the side that lies open."""
        index, pages = sheet.entry.key[1], [*self.pages]
        assert isinstance(index, int)
        if not names_sides(sheet.values):
            values = with_values_on(pages[index], sheet.entry.side, values)
        pages[index] = values
        return pages

    @cached_property
    def _sheets(self) -> dict[tuple[int, str | None], PlannedPage]:
        return {}

    @cached_property
    def beside_pages(self) -> str:
        """All that is said beside the pages: where it is the same, pages alike look alike."""
        assert self.loaded
        values = self.loaded.file.values
        said = {key: said for key, said in values.items() if key != "pages"}
        return f"{self.loaded.preset_digest} {said!r}"


def version_of(text: str) -> str:
    """A short name of a text of an issue, and of no other."""
    return sha256(text.encode()).hexdigest()[:16]


def read_book(path: Path, text: str, known: FullCatalogue) -> Draft:
    """What a text says; mistakes in single pages, and in keys beside them, leave the rest."""
    try:
        file = toml_in(path, text.encode())
    except InputError as error:
        return Draft(text, {}, None, error.problems)
    try:
        return Draft(text, file.values, loaded(file, known))
    except InputError as error:
        problems = error.problems
    values = dict(file.values)
    wrong = {p.key[1] for p in problems if p.key[:1] == ("pages",) and len(p.key) > 1}
    for key in {p.key[0] for p in problems if p.key} - {"pages", "preset", "title"}:
        values.pop(str(key), None)
    if isinstance(values.get("pages"), list):
        values["pages"] = [
            _stand_in(page) if i in wrong else page for i, page in enumerate(values["pages"])
        ]
    if "title" not in values or any(p.key[:1] == ("title",) for p in problems):
        values["title"] = path.stem
    try:
        sound = loaded(replace(file, values=values), known)
    except InputError:
        return Draft(text, file.values, None, problems)
    return Draft(text, file.values, sound, problems)


def _stand_in(page: Any) -> Values:
    """A page of one panel in place of one that cannot be read."""
    page = page if isinstance(page, dict) else {}
    count = page.get("count")
    spread = {"spread": True} if page.get("spread") is True else {}
    sound = isinstance(count, int) and not isinstance(count, bool) and 0 < count < 10_000
    return {"panels": 1} | spread | ({"count": count} if sound else {})


def problems_of_page(
    book: Draft, entry: PageEntry
) -> tuple[PlannedPage | None, tuple[Problem, ...]]:
    """A page laid out, or what is wrong with it, with lines."""
    assert book.loaded
    page = entry.key[1]
    assert isinstance(page, int)
    if own := book.problems_at(entry):
        return None, own
    try:
        return sheet_of(entry, values_on(book.pages[page], entry.side), book.rules), ()
    except InputError as error:
        file = TomlFile(book.loaded.path, book.text.encode(), book.values)
        told = [in_issue(problem, entry, book.loaded) for problem in error.problems]
        return None, located(told, Origin(file))


def problems_read(book: Draft) -> tuple[Problem, ...]:
    """What is wrong as far as it shows before pages are laid out."""
    return book.problems


def all_problems(book: Draft) -> tuple[Problem, ...]:
    """What is wrong with an issue and with each of its pages laid out."""
    firsts = {entry.key: entry for entry in reversed(book.loaded.entries if book.loaded else ())}
    pages = (problem for entry in firsts.values() for problem in problems_of_page(book, entry)[1])
    return (*book.problems, *pages)
