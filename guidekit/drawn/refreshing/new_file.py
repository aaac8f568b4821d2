"""Today's guides for one drawing, as a file of their own that takes its place."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import CancelledError
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field, replace
from io import BufferedReader
from pathlib import Path
from queue import SimpleQueue
from typing import Any, BinaryIO, Protocol

from guidekit.drawn.refreshing.refresh_report import Refreshed, tried
from guidekit.drawn.spans.copying import Wanted
from guidekit.drawn.spans.source import Piece
from guidekit.drawn.standing.own_words import note_guides
from guidekit.drawn.unfit import UnfitError
from guidekit.store.before import Before
from guidekit.store.files import close_for_long, identity, state_of
from guidekit.store.folder import Store


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

    def make(self) -> None:
        """Work out what the new file shows."""
        ...

    def write(self, file: BinaryIO, made: Callable[[], None], wanted: Wanted) -> None:
        """Write the new file, in another thread; `made` waits for `make`, and raises as it did.

        Of what takes long before that, `wanted` gives one piece after the other and does the same.
        """
        ...

    def check(self, file: BufferedReader) -> str:
        """Compare the new file with the old one; the SHA-256 of the new one."""
        ...

    def close(self) -> None:
        """Let go of what is open."""
        ...


@dataclass(frozen=True)
class NewFile:
    """A new file for the place of an `old` one, whose state is `over`; it tells of `info`.

    One thread works out what it shows, while another one writes it and puts it in its place.
    `done` is what became of it if nothing comes in between; `held` holds open what both read.
    """

    store: Store
    before: Before
    work: Work
    old: BufferedReader
    over: os.stat_result
    info: dict[str, Any]
    done: Refreshed
    held: ExitStack
    #: What went wrong, or None, once it is made. A Ctrl-C never leaves it half told.
    _made: SimpleQueue[Exception | None] = field(default_factory=SimpleQueue)

    def make(self) -> None:
        """Work out what it shows; what is wrong with the file is told by `put`, which waits."""
        try:
            self.work.make()
        except (UnfitError, OSError) as error:  # what else there is ends all; see `give_up`
            self._made.put(error)
        else:
            self._made.put(None)

    def give_up(self) -> None:
        """What is not made by now is not made at all; nobody waits for it any more."""
        self._made.put(CancelledError())

    def put(self) -> Refreshed:
        """Write it and put it in its place; what became of it.

        Raises `MachineError`, and `CancelledError` if it was given up before it was made.
        """
        with self.held:
            try:
                return tried(self.done.name, self.done.pages, self._put)
            finally:
                self._made.get()  # it is made of the file that is held

    def _put(self) -> Refreshed:
        name, work = self.done.name, self.work

        def write(file: BinaryIO) -> None:
            work.write(file, self._wait, self._wanted)

        with self._saved_meanwhile():
            kept = self.before.put(name, self.over, write, self._check)
            if kept is None:
                raise _saved_just_now()
        note_guides(self.store, name, self.info)
        return replace(self.done, kept=kept, notes=tuple(work.notes))

    def _wait(self) -> None:
        """Wait until it is made; raises what `make` met with."""
        wrong = self._made.get()
        self._made.put(wrong)  # for who waits once more
        if wrong:
            raise wrong

    def _wanted(self, pieces: Iterable[Piece]) -> Iterator[Piece]:
        """The same pieces; raises what `make` has met with as soon as it has."""
        for piece in pieces:
            if not self._made.empty():
                self._wait()
            yield piece

    def _check(self, part: Path) -> str:
        with part.open("rb") as file:
            digest = self.work.check(file)
        close_for_long(self.old)  # besides, some systems replace no file that is open
        return digest

    @contextmanager
    def _saved_meanwhile(self) -> Iterator[None]:
        """Of a file that has another state by now, that is told, not what came of reading it."""
        try:
            yield
        except UnfitError as error:
            now = state_of(self.store.folder / self.done.name)
            if now and identity(now) == identity(self.over):
                raise
            raise _saved_just_now() from error


def _saved_just_now() -> UnfitError:
    return UnfitError("it was saved by another program just now", "Run it again.")
