"""The issue that lies on the desk: its text now, every text that it had, and what it says.

A change is always made of the text that is in the file at that moment. Whoever asks for one tells
which version was seen; where the page in question has changed since, nothing is done.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from pathlib import Path
from threading import RLock
from typing import TYPE_CHECKING, Any

from guidekit.errors import InputError, MachineError, Problem
from guidekit.planner import changes as asked
from guidekit.planner.draft import Draft, all_problems, problems_read, read_book, version_of
from guidekit.planner.edits.spots import put
from guidekit.planner.issue_file import StaleError, refuse_stale, replace_text, text_in
from guidekit.planner.moving import move_files
from guidekit.planner.pages import Order, after_list_change, order_after, way_back
from guidekit.planner.planned_page import PlannedPage
from guidekit.planner.shaping import kept_layout, page_after
from guidekit.shipped import FullCatalogue
from guidekit.toml.rewrite import rewritten

if TYPE_CHECKING:
    from guidekit.drawn.moving.renaming import Move

MOST_TEXTS = 2_000  # kept for undoing; of an issue of 200 pages about as many times 10 KB


@dataclass(frozen=True)
class Past:
    """A text that the file had; `order` is where its pages were in the one before, see `pages`."""

    text: str
    order: Order | None = None


class UnsavedError(MachineError):
    """The file could not be written; `text` is what would be in it, to be copied by hand."""

    def __init__(self, told: object, text: str):
        super().__init__(str(told))
        self.text = text


class Desk:
    """One issue file; changes, undoing and what happens to it from outside, one at a time."""

    def __init__(self, path: Path, known: FullCatalogue):
        self.path = path.resolve()
        self.known = known
        self.lock = RLock()
        self.past: list[Past] = []
        self.taken_out: dict[str, tuple[str, str]] = {}  # where files are: what they were, and when
        self.place = -1
        self.pictures: dict[str, dict[str, Any]] = {}  # of pages that were laid out
        self.read()

    def read(self) -> bool:
        """Look at the file; True if its text is another one than before.

        Raises `InputError` if it is no text, `MachineError` if it cannot be read.
        """
        with self.lock:
            text = text_in(self.path)
            if self.place >= 0 and text == self.book.text:
                return False
            self._push(read_book(self.path, text, self.known))
            return True

    def _read_again(self) -> None:
        """Look at the file before it is changed; raises `UnsavedError` if it is gone."""
        try:
            self.read()
        except InputError as error:
            if self.path.exists():
                raise
            raise UnsavedError(error, self.book.text) from None

    def _push(self, book: Draft, order: Order | None = None) -> None:
        del self.past[self.place + 1 :]
        self.past.append(Past(book.text, order))
        del self.past[:-MOST_TEXTS]
        self.place = len(self.past) - 1
        self.book = book

    @property
    def can_undo(self) -> bool:
        """True if there is a text before this one."""
        return self.place > 0

    @property
    def can_redo(self) -> bool:
        """True if a text was undone."""
        return self.place + 1 < len(self.past)

    def tried(self, change: asked.PageChange) -> PlannedPage:
        """The page as it would be; nothing is saved. Raises `InputError`."""
        book = self.book
        sheet = book.sheet(change.page, change.side)
        return sheet.changed(page_after(sheet, change, book.unit))

    def change(self, change: asked.Change, seen: str, agreed: str = "") -> Move | None:
        """Make a change and save it; what became of files of pages that moved, if any did.

        `seen` is the version that whoever asks has before them, `agreed` the key of the plan that
        was shown. Raises `StaleError`, `NotAgreedError`, `InputError` for what cannot be,
        `MachineError`.
        """
        with self.lock:
            self._read_again()
            if seen != self.book.version:
                self._check_seen(change, seen)
            text = text_after(self.book, change)
            book = read_book(self.path, text, self.known)
            found = all_problems if isinstance(change, asked.PutTop) else problems_read
            before = {problem.came for problem in found(self.book)}
            if new := [problem for problem in found(book) if problem.came not in before]:
                raise InputError(new)
            if isinstance(change, asked.PageChange):
                book.sheet(change.page, change.side)
            order = order_after(self.book, change)
            moved = self._save(text, order, agreed)
            if text != self.book.text:
                self._push(book, order)
            return moved

    def _check_seen(self, change: asked.Change, seen: str) -> None:
        """A change of one page is sound where that page, and how many there are, is as seen."""
        texts = (past.text for past in reversed(self.past))
        old = next((text for text in texts if version_of(text) == seen), None)
        pages = _pages_in(old) if old is not None else None
        if isinstance(change, asked.PageChange) and pages is not None:
            i, now = change.page, self.book.pages
            if len(pages) == len(now) and i < len(now) and pages[i] == now[i]:
                return
        raise StaleError("This has been changed elsewhere since. Look at it again, then change it.")

    def step(self, by: int, seen: str, agreed: str = "") -> Move | None:
        """Undo (-1) or redo (1): the very bytes of that text, and the files of its pages.

        Raises `StaleError`, `NotAgreedError`, `InputError`, `MachineError`.
        """
        with self.lock:
            self._read_again()
            if seen != self.book.version:
                raise StaleError("This has been changed elsewhere since.")
            place = self.place + by
            if not 0 <= place < len(self.past):
                return None
            book = read_book(self.path, self.past[place].text, self.known)
            order = self.past[max(place, self.place)].order
            if order is not None and by < 0:
                order = way_back(order, book.numbers, self.book.numbers)
            moved = self._save(book.text, order, agreed)
            self.place, self.book = place, book
            return moved

    def _save(self, text: str, order: Order | None, agreed: str) -> Move | None:
        """Replace the file by a whole one, files of pages along with it; see `move_files`."""
        try:
            moved = self._moved(text, order, agreed) if order is not None else None
            if not moved:
                replace_text(self.path, self.book.text, text)
        except MachineError as error:
            raise UnsavedError(error, text) from None
        return moved

    def _moved(self, text: str, order: Order, agreed: str) -> Move | None:
        """The files of pages that move with a text; None if there are none."""
        loaded, version = self.book.loaded, version_of(text)
        if not loaded or not loaded.folder().is_dir():
            return None
        back = [
            (now, name)
            for now, (name, when) in self.taken_out.items()
            if when == version and (loaded.folder() / now).exists()
        ]
        refuse_stale(self.path, self.book.text)
        texts = self.book.text, text
        moved = move_files(self.path, texts, order, back, self.known, agreed)
        for now, _ in back if moved else ():
            del self.taken_out[now]
        for name, now in moved.files if moved else ():
            if "/" in now:
                self.taken_out[now] = name, self.book.version
        return moved


def text_after(book: Draft, change: asked.Change) -> str:
    """The text of an issue after a change: pure, nothing is saved. Raises `InputError`."""
    if not book.loaded:
        raise InputError(book.problems)
    if isinstance(change, asked.ListChange):
        return after_list_change(book, change)
    values = dict(book.values)
    if isinstance(change, asked.PutTop):
        if change.key[0] in ("pages", "layouts"):
            raise InputError(Problem((), "pages and layouts are changed one by one"))
        return rewritten(book.text, put(values, [*change.key], change.value))
    sheet = book.sheet(change.page, change.side)
    pages = book.with_page(sheet, page_after(sheet, change, book.unit))
    if isinstance(change, asked.Keep):
        layouts = dict(values.get("layouts", {}))
        if change.name in layouts:
            raise InputError(Problem((), "a layout of this name is there already", "a new name"))
        values["layouts"] = {**layouts, change.name: kept_layout(sheet)}
    return rewritten(book.text, {**values, "pages": pages})


def _pages_in(text: str) -> list[Any] | None:
    try:
        pages = tomllib.loads(text).get("pages")
    except tomllib.TOMLDecodeError:
        return None
    return pages if isinstance(pages, list) else None
