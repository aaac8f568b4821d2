"""The issue that lies on the desk: its text now, every text that it had, and what it says.

A change is always made of the text that is in the file at that moment. Whoever asks for one tells
which version was seen; where the page in question has changed since, nothing is done.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, replace
from functools import cached_property
from hashlib import sha256
from pathlib import Path
from threading import RLock
from typing import Any

from guidekit.errors import GuidekitError, InputError, MachineError, Problem
from guidekit.geometry.plan import in_issue
from guidekit.geometry.rules import Rules, rules_of
from guidekit.issue import LoadedIssue
from guidekit.issue.load import loaded
from guidekit.issue.order import PageEntry
from guidekit.planner import changes as asked
from guidekit.planner.edits.spots import Values
from guidekit.planner.pages import after_list_change
from guidekit.planner.shaping import kept_layout, page_after, put
from guidekit.planner.sheet import Sheet, sheet_of
from guidekit.shipped import FullCatalogue
from guidekit.store.files import flush_folder, part_of, state_of, write_whole
from guidekit.toml import Origin, TomlFile, located
from guidekit.toml.file import LARGEST_FILE, toml_in
from guidekit.toml.rewrite import rewritten

BOM = "\ufeff"
MOST_TEXTS = 2_000  # kept for undoing; of an issue of 200 pages about as many times 10 KB


class StaleError(GuidekitError):
    """What was to be changed has been changed by somebody else."""


@dataclass(frozen=True)
class Book:
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
        return sha256(self.text.encode()).hexdigest()[:16]

    @cached_property
    def rules(self) -> Rules:
        """What its pages are laid out by."""
        assert self.loaded
        return rules_of(self.loaded)

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

    def entry(self, page: int) -> PageEntry:
        """The first page of an entry of the file; raises `InputError`."""
        for entry in self.loaded.entries if self.loaded else ():
            if entry.key == ("pages", page):
                return entry
        raise InputError(Problem((), "there is no such page"))

    def sheet(self, page: int) -> Sheet:
        """The first page of an entry, laid out; raises `InputError`."""
        return sheet_of(self.entry(page), self.pages[page], self.rules)


def read_book(path: Path, text: str, known: FullCatalogue) -> Book:
    """What a text says; mistakes in single pages, and in keys beside them, leave the rest."""
    try:
        file = toml_in(path, text.encode())
    except InputError as error:
        return Book(text, {}, None, error.problems)
    try:
        return Book(text, file.values, loaded(file, known))
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
        return Book(text, file.values, None, problems)
    return Book(text, file.values, sound, problems)


def _stand_in(page: Any) -> Values:
    """A page of one panel in place of one that cannot be read."""
    page = page if isinstance(page, dict) else {}
    count = page.get("count")
    spread = {"spread": True} if page.get("spread") is True else {}
    sound = isinstance(count, int) and not isinstance(count, bool) and 0 < count < 10_000
    return {"panels": 1} | spread | ({"count": count} if sound else {})


class Desk:
    """One issue file; changes, undoing and what happens to it from outside, one at a time."""

    def __init__(self, path: Path, known: FullCatalogue):
        self.path = path.resolve()
        self.known = known
        self.lock = RLock()
        self.texts: list[str] = []
        self.place = -1
        self.mark = ""
        self.read()

    def read(self) -> bool:
        """Look at the file; True if its text is another one than before.

        Raises `InputError` if it is no text, `MachineError` if it cannot be read.
        """
        with self.lock:
            text = self._text_in_file()
            if self.place >= 0 and text == self.book.text:
                return False
            self._push(read_book(self.path, text, self.known))
            return True

    def _text_in_file(self) -> str:
        try:
            if not self.path.is_file():
                came, todo = "there is no such file any more", "Put it back, or copy the text here."
                raise InputError(Problem((), came, todo=todo, file=self.path))
            if self.path.stat().st_size > LARGEST_FILE:
                raise InputError(Problem((), "this file is too large", file=self.path))
            data = self.path.read_bytes()
        except OSError as error:
            raise MachineError.from_os(f"reading {self.path.name}", error) from None
        text = data.decode(errors="surrogateescape")
        self.mark = BOM if text.startswith(BOM) else ""
        text = text.removeprefix(BOM)
        if any("\ud800" <= letter <= "\udfff" for letter in text):
            raise InputError(Problem((), "this file is not UTF-8", file=self.path))
        return text

    def _push(self, book: Book) -> None:
        del self.texts[self.place + 1 :]
        self.texts.append(book.text)
        del self.texts[:-MOST_TEXTS]
        self.place = len(self.texts) - 1
        self.book = book

    @property
    def can_undo(self) -> bool:
        """True if there is a text before this one."""
        return self.place > 0

    @property
    def can_redo(self) -> bool:
        """True if a text was undone."""
        return self.place + 1 < len(self.texts)

    def tried(self, change: asked.PageChange) -> Sheet:
        """The page as it would be; nothing is saved. Raises `InputError`."""
        book = self.book
        sheet = book.sheet(change.page)
        return sheet.changed(page_after(sheet, change, book.unit))

    def change(self, change: asked.Change, seen: str) -> None:
        """Make a change and save it.

        `seen` is the version that whoever asks has before them. Raises `StaleError`, `InputError`
        for what cannot be, `MachineError`.
        """
        with self.lock:
            self.read()
            if seen != self.book.version:
                self._check_seen(change, seen)
            text = text_after(self.book, change)
            book = read_book(self.path, text, self.known)
            before = {str(problem.came) for problem in self.book.problems}
            if new := [problem for problem in book.problems if problem.came not in before]:
                raise InputError(new)
            if isinstance(change, asked.PageChange):
                book.sheet(change.page)
            self._save(text)
            if text != self.book.text:
                self._push(book)

    def _check_seen(self, change: asked.Change, seen: str) -> None:
        """A change of one page is sound where that page, and how many there are, is as seen."""
        old = next((text for text in reversed(self.texts) if _version(text) == seen), None)
        pages = _pages_in(old) if old is not None else None
        if isinstance(change, asked.PageChange) and pages is not None:
            i, now = change.page, self.book.pages
            if len(pages) == len(now) and i < len(now) and pages[i] == now[i]:
                return
        raise StaleError("This has been changed elsewhere since. Look at it again, then change it.")

    def step(self, by: int, seen: str) -> None:
        """Undo (-1) or redo (1): the very bytes of that text. Raises `StaleError`."""
        with self.lock:
            self.read()
            if seen != self.book.version:
                raise StaleError("This has been changed elsewhere since.")
            place = self.place + by
            if 0 <= place < len(self.texts):
                self._save(self.texts[place])
                self.place = place
                self.book = read_book(self.path, self.texts[place], self.known)

    def _save(self, text: str) -> None:
        """Replace the file by a whole one; raises `MachineError`, `StaleError`."""
        data = (self.mark + text).encode()
        try:
            state = state_of(self.path)
            if state is None:
                raise StaleError("The file is gone.")
            if self._text_in_file() != self.book.text:
                raise StaleError("The file has been changed elsewhere at this very moment.")
            if not write_whole(self.path, [data], part_of(self.path), state):
                raise StaleError("The file has been changed elsewhere at this very moment.")
            flush_folder(self.path.parent)
        except OSError as error:
            raise MachineError.from_os(f"writing {self.path.name}", error) from None


def text_after(book: Book, change: asked.Change) -> str:
    """The text of an issue after a change: pure, nothing is saved. Raises `InputError`."""
    if isinstance(change, asked.ListChange):
        return after_list_change(book.text, change)
    values = dict(book.values)
    if isinstance(change, asked.PutTop):
        if change.key[0] in ("pages", "layouts"):
            raise InputError(Problem((), "pages and layouts are changed one by one"))
        return rewritten(book.text, put(values, [*change.key], change.value))
    sheet = book.sheet(change.page)
    pages = [*book.pages]
    pages[change.page] = page_after(sheet, change, book.unit)
    if isinstance(change, asked.Keep):
        layouts = dict(values.get("layouts", {}))
        if change.name in layouts:
            raise InputError(Problem((), "a layout of this name is there already", "a new name"))
        values["layouts"] = {**layouts, change.name: kept_layout(sheet)}
    return rewritten(book.text, {**values, "pages": pages})


def problems_of_page(book: Book, entry: PageEntry) -> tuple[Sheet | None, tuple[Problem, ...]]:
    """A page laid out, or what is wrong with it, with lines."""
    assert book.loaded
    page = entry.key[1]
    assert isinstance(page, int)
    own = [p for p in book.problems if p.key[:2] == entry.key]
    if own:
        return None, tuple(own)
    try:
        return sheet_of(entry, book.pages[page], book.rules), ()
    except InputError as error:
        file = TomlFile(book.loaded.path, book.text.encode(), book.values)
        told = [in_issue(problem, entry, book.loaded) for problem in error.problems]
        return None, located(told, Origin(file))


def _version(text: str) -> str:
    return sha256(text.encode()).hexdigest()[:16]


def _pages_in(text: str) -> list[Any] | None:
    try:
        pages = tomllib.loads(text).get("pages")
    except tomllib.TOMLDecodeError:
        return None
    return pages if isinstance(pages, list) else None
