"""One file that is drawn on, and today's guides for it."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from functools import partial
from io import BufferedReader
from pathlib import Path
from typing import TYPE_CHECKING, Any, BinaryIO, Protocol, TypeVar

from guidekit.drawn.ours.new_layers import told_blank
from guidekit.drawn.psd.drawing import PsdDrawing
from guidekit.drawn.psd.refreshed import PsdRefresh, planned
from guidekit.drawn.refreshing.fits import (
    is_drawn_on,
    place_of,
    refuse_other_page,
    refuse_other_size,
    wants_of,
)
from guidekit.drawn.refreshing.refresh_report import Refreshed, RefreshOutcome
from guidekit.drawn.spans.source import Source
from guidekit.drawn.standing.changes import changes
from guidekit.drawn.standing.own_words import own_info, recorded_info
from guidekit.drawn.unfit import UnfitError
from guidekit.geometry.page import PagePlan
from guidekit.layers.model import Stack
from guidekit.layers.prints import info_key, whole_info
from guidekit.store.before import Before, Written
from guidekit.store.files import digest_of, identity, is_read_only, open_ordinary, state_of
from guidekit.store.folder import Store

if TYPE_CHECKING:
    from guidekit.drawn.ora.drawing import OraDrawing
    from guidekit.drawn.ora.refreshed import OraRefresh


T = TypeVar("T")


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


class OneFile:
    """One file with the page that it is of."""

    def __init__(
        self, store: Store, before: Before | None, plan: PagePlan, name: str, stack: Stack
    ):
        self.store, self.before, self.plan, self.name, self.stack = store, before, plan, name, stack
        self.path = store.folder / name
        self.entry = store.entry(name)
        self.is_ora = self.path.suffix.lower() == ".ora"

    def begun(self, every: tuple[PagePlan, ...] | None) -> Refreshed | Callable[[], Refreshed]:
        """What became of the file; where a new one is written, what puts it in place and tells.

        `every` page of the issue is given if it may not have other panels.
        """
        with ExitStack() as held:
            return self._or_why_not(partial(self._begun, every, held))

    def _or_why_not(self, work: Callable[[], T]) -> T | Refreshed:
        """What some work gives, or why it cannot be done."""
        try:
            return work()
        except UnfitError as unfit:
            return Refreshed.refused(self.name, self.plan.numbers, unfit)
        except OSError as error:
            todo = "The file is as it was; mend it and run again."
            failed = UnfitError(error.strerror or str(error), todo)
            return Refreshed.refused(self.name, self.plan.numbers, failed)

    def _left(self, outcome: RefreshOutcome) -> Refreshed:
        return Refreshed(self.name, self.plan.numbers, outcome)

    def _begun(
        self, every: tuple[PagePlan, ...] | None, held: ExitStack
    ) -> Refreshed | Callable[[], Refreshed]:
        file = held.enter_context(open_ordinary(self.path))
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
        if is_read_only(state):
            raise UnfitError("it is read-only", "Make it writable, and run again.")
        info = told or recorded_info(self.store, self.entry)
        if every:
            refuse_other_page(info, self.plan, every)
        work = self._work(drawing, info)
        if not work.changed:
            return replace(self._left("up to date"), notes=tuple(work.notes))
        changed = changes(info, whole_info(self.stack)) or ("guides as they are drawn now",)
        done = replace(self._left("refreshed"), changed=changed)
        if not self.before:
            return replace(done, notes=tuple(work.notes))
        with self._saved_meanwhile(state):
            written = self.before.written(self.name, state, work.write)
        done = replace(done, notes=tuple(work.notes))
        ended = partial(self._ended, self.before, written, _checked(work, file), held.pop_all())
        return partial(self._or_why_not, partial(ended, done))

    def _ended(
        self,
        before: Before,
        written: Written,
        check: Callable[[Path], str],
        held: ExitStack,
        done: Refreshed,
    ) -> Refreshed:
        """Put the new file in the place of the old one, which is held open."""
        with held, self._saved_meanwhile(written.over):
            kept = before.put(written, check)
            if kept is None:
                raise _saved_just_now()
        new = whole_info(self.stack)
        self.store.refreshed(self.name, new, info_key(new))
        return replace(done, kept=kept)

    @contextmanager
    def _saved_meanwhile(self, state: os.stat_result) -> Iterator[None]:
        """Of a file that has another state by now, that is told, not what came of reading it."""
        try:
            yield
        except UnfitError as error:
            now = state_of(self.path)
            if now and identity(now) == identity(state):
                raise
            raise _saved_just_now() from error

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


def _saved_just_now() -> UnfitError:
    return UnfitError("it was saved by another program just now", "Run it again.")


def _checked(work: Work, old: BufferedReader) -> Callable[[Path], str]:
    def check(part: Path) -> str:
        with part.open("rb") as file:
            digest = work.check(file)
        old.close()  # some systems replace no file that is open
        return digest

    return check
