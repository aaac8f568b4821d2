"""Today's guides in the pages that are drawn on."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from io import BufferedReader
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO, Literal, Protocol

from guidekit.drawn.changes import changes
from guidekit.drawn.fits import (
    is_drawn_on,
    place_of,
    refuse_other_page,
    refuse_other_size,
    told_elsewhere,
    wants_of,
)
from guidekit.drawn.known_again import known_again, stood_in
from guidekit.drawn.new_layers import told_blank
from guidekit.drawn.own_words import LAYERED, own_info
from guidekit.drawn.page_files import is_blank
from guidekit.drawn.psd.drawing import PsdDrawing
from guidekit.drawn.psd.refreshed import PsdRefresh, planned
from guidekit.drawn.source import Source
from guidekit.drawn.unfit import UnfitError
from guidekit.errors import MachineError
from guidekit.geometry.digest import PlanDigests
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import Pages, chosen, plan_issue
from guidekit.layers.model import Stack
from guidekit.layers.prints import info_key, whole_info
from guidekit.layers.standard import standard_stack
from guidekit.measure import load_issue
from guidekit.memory import in_turn, remembering
from guidekit.shipped import FullCatalogue, shipped
from guidekit.store.before import Before
from guidekit.store.files import digest_of, identity, open_ordinary, state_of
from guidekit.store.folder import Permissions, Store

if TYPE_CHECKING:
    from guidekit.drawn.ora.drawing import OraDrawing
    from guidekit.drawn.ora.refreshed import OraRefresh

#: New guides are in it; it had them already; nobody has drawn on it, so that a build makes it anew;
#: it is left as it is for a reason; its old state is back.
RefreshOutcome = Literal["refreshed", "up to date", "empty", "refused", "put back"]
Progress = Callable[[int, int], None]  # files done, files in all


@dataclass(frozen=True)
class Refreshed:
    """What became of one file: why not, or what has changed, what is worth telling.

    `kept` is where the old file is, seen from the folder.
    """

    name: str
    pages: tuple[int, ...]
    outcome: RefreshOutcome
    why: str = ""
    changed: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()
    kept: str = ""


@dataclass(frozen=True)
class RefreshReport:
    """What became of every file that is there, in the order of pages."""

    folder: Path
    files: tuple[Refreshed, ...]

    def named(self, outcome: RefreshOutcome) -> tuple[Refreshed, ...]:
        """The files of one outcome."""
        return tuple(file for file in self.files if file.outcome == outcome)

    @property
    def complete(self) -> bool:
        """True if no file was refused."""
        return not self.named("refused")


class Work(Protocol):
    """What is to be done to one file, in the terms of its format."""

    @property
    def changed(self) -> bool:
        """True if there is anything to write."""
        ...

    @property
    def notes(self) -> list[str]:
        """What is worth telling."""
        ...

    def write(self, file: BinaryIO) -> None:
        """Write the new file."""
        ...

    def check(self, file: BufferedReader) -> str:
        """Compare the new file with the old one; the SHA-256 of the new one."""
        ...


@remembering()
def refresh_issue(
    path: str | Path,
    out: str | Path | None = None,
    *,
    pages: Pages | None = None,
    named: bool = True,
    dpi: int | None = None,
    progress: Progress = lambda done, total: None,
    catalogue: FullCatalogue | None = None,
    dry_run: bool = False,
) -> RefreshReport:
    """Put today's guides, borders, masks and ruler guides into the files that are drawn on.

    What is drawn stays byte for byte. The old files are kept in the folder `before`. `pages` are
    page numbers (all if None): a page that is `named` by them is refreshed also where its panels
    are others than those that were drawn, or those of another page. With `dry_run` nothing is
    written. A file that cannot be worked on is left as it is and tells why; the others are done.
    Raises `InputError`, `MachineError`.
    """
    catalogue = catalogue or shipped()
    issue = load_issue(path, dpi=dpi, catalogue=catalogue)
    every = plan_issue(issue)
    plans = chosen(every, pages)
    folder = issue.folder(out)
    store = Store(folder, issue.path, Permissions(dry_run=dry_run))
    found: list[Refreshed] = []
    with store.drawn_on() as before:
        sure = pages is not None and named
        stood = {} if sure else stood_in(store, issue.file_name)
        gone = known_again(stood, every, PlanDigests(), partial(is_blank, store))
        work = [(plan, name) for plan in plans for name in _names_of(plan, store)]
        for done, (plan, name) in enumerate(in_turn(work)):
            progress(done, len(work))
            if plan.file_name in gone and not store.is_as_written(name):
                why = told_elsewhere(plan, gone[plan.file_name], path)
                found.append(Refreshed(name, plan.numbers, "refused", why))
                continue
            one = _One(store, before, plan, name, standard_stack(plan, catalogue.guides))
            found.append(one.done(None if sure else every))
        progress(len(work), len(work))
    return RefreshReport(folder, tuple(found))


def undo_refresh(
    path: str | Path,
    out: str | Path | None = None,
    *,
    catalogue: FullCatalogue | None = None,
) -> RefreshReport:
    """Put back the files that the last refresh replaced, but for those drawn on since.

    Raises `InputError`, `MachineError`.
    """
    issue = load_issue(path, catalogue=catalogue or shipped())
    folder = issue.folder(out)
    store = Store(folder, issue.path, Permissions())
    found: list[Refreshed] = []
    with store.drawn_on() as before:
        if before:
            try:
                undone = before.undo()
            except OSError as error:
                raise MachineError.from_os(f"putting files back in {folder}", error) from None
            for name, why in undone.items():
                found.append(Refreshed(name, (), "refused" if why else "put back", why))
                info = None if why else own_info(folder / name)
                if info and "layers" in info:
                    store.refreshed(name, info, info_key(info))
    return RefreshReport(folder, tuple(found))


def _names_of(plan: PagePlan, store: Store) -> Iterator[str]:
    """The files of layers of one canvas that are there."""
    for suffix in LAYERED:
        name = f"{plan.file_name}{suffix}"
        if state_of(store.folder / name):
            yield name


class _One:
    """One file with the page that it is of."""

    def __init__(
        self, store: Store, before: Before | None, plan: PagePlan, name: str, stack: Stack
    ):
        self.store, self.before, self.plan, self.name, self.stack = store, before, plan, name, stack
        self.path = store.folder / name
        self.entry = store.entry(name)
        self.is_ora = self.path.suffix.lower() == ".ora"

    def done(self, every: tuple[PagePlan, ...] | None) -> Refreshed:
        """Refresh the file; `every` page of the issue if it may not have other panels."""
        try:
            return self._done(every)
        except UnfitError as unfit:
            return self._left("refused", str(unfit))
        except OSError as error:
            reason = error.strerror or str(error)
            return self._left("refused", f"{reason}. The file is as it was; mend it and run again.")

    def _left(self, outcome: RefreshOutcome, why: str = "") -> Refreshed:
        return Refreshed(self.name, self.plan.numbers, outcome, why)

    def _done(self, every: tuple[PagePlan, ...] | None) -> Refreshed:
        with open_ordinary(self.path) as file:
            if file is None or self.path.is_symlink():
                raise UnfitError("this is no file of its own", "Put the file itself here.")
            if self.store.is_of_another_issue(self.name):
                raise UnfitError(
                    "it was made for another issue", "Give one of the two another file_name."
                )
            state, drawing = os.fstat(file.fileno()), self._drawing(Source(file))
            told = own_info(self.path)
            if self.entry and not is_drawn_on(drawing, told):
                file.seek(0)
                if digest_of(file) == self.entry.sha256:
                    return self._left("empty")
            if not state.st_mode & 0o222:
                raise UnfitError("it is read-only", "Make it writable, and run again.")
            info = told or (self.store.told(self.entry) if self.entry else None)
            if every:
                refuse_other_page(info, self.plan, every)
            work = self._work(drawing, info)
            new = whole_info(self.stack)
            changed = changes(info, new)
            if not work.changed:
                return replace(self._left("up to date"), notes=tuple(work.notes))
            kept = ""
            if self.before:
                kept = self._replaced(self.before, state, work, file)
                self.store.refreshed(self.name, new, info_key(new))
        return Refreshed(
            self.name,
            self.plan.numbers,
            "refreshed",
            changed=changed or ("guides as they are drawn now",),
            notes=tuple(work.notes),
            kept=kept,
        )

    def _replaced(
        self, before: Before, state: os.stat_result, work: Work, file: BufferedReader
    ) -> str:
        """Put the new file in the place of the old one, which is open; the name of that now."""
        kept, unfit = None, UnfitError("it was saved by another program just now", "Run it again.")
        try:
            kept = before.replace(self.name, state, work.write, _checked(work, file))
        except UnfitError as error:  # or what comes of reading a file that is written to
            now = state_of(self.path)
            if now and identity(now) == identity(state):
                unfit = error
        if kept is None:
            raise unfit
        return kept

    def _drawing(self, source: Source) -> PsdDrawing | OraDrawing:
        if self.is_ora:
            from guidekit.drawn.ora.drawing import OraDrawing

            return OraDrawing(source)
        return PsdDrawing(source)

    def _work(self, drawing: PsdDrawing | OraDrawing, info: dict[str, Any] | None) -> Work:
        wants, place = wants_of(info, self.stack), place_of(info, self.plan)
        given = told_blank(info)
        work: PsdRefresh | OraRefresh
        if isinstance(drawing, PsdDrawing):
            work = planned(drawing, wants, self.stack, place, given)
        else:
            from guidekit.drawn.ora.refreshed import planned_ora

            work = planned_ora(drawing, wants, self.stack, place, given)
        if info is None and not work.found.known:
            raise UnfitError("nothing in it is guidekit's", "Move it away, and build the page.")
        refuse_other_size(drawing.size, drawing.dpi, info, self.plan, tiles=self.is_ora)
        return work


def _checked(work: Work, old: BufferedReader) -> Callable[[Path], str]:
    def check(part: Path) -> str:
        with part.open("rb") as file:
            digest = work.check(file)
        old.close()  # some systems replace no file that is open
        return digest

    return check
