"""Today's guides in the pages that are drawn on."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Collection, Iterator
from concurrent.futures import CancelledError, Future
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import Self

from guidekit.drawn.refreshing.fits import elsewhere
from guidekit.drawn.refreshing.new_file import NewFile
from guidekit.drawn.refreshing.refresh_one import OneFile
from guidekit.drawn.refreshing.refresh_report import Refreshed, RefreshReport
from guidekit.drawn.standing.known_again import known_again, to_follow
from guidekit.drawn.standing.own_words import LAYERED, note_guides, own_info
from guidekit.drawn.standing.page_files import is_blank
from guidekit.drawn.standing.stood import stood_in
from guidekit.errors import GuidekitError, MachineError
from guidekit.geometry.digest import PlanDigests
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import Pages, chosen, plan_issue
from guidekit.measure import load_issue
from guidekit.memory import in_turn, remembering
from guidekit.shipped import FullCatalogue, shipped
from guidekit.stops import Unbroken
from guidekit.store.files import state_of
from guidekit.store.folder import Permissions, Store
from guidekit.threads import Threads

Progress = Callable[[int, int], None]  # files done, files in all
Started = Callable[[Path, int], None]  # the folder, files in all
FileDone = Callable[[Refreshed], None]


@remembering()
def refresh_issue(
    path: str | Path,
    out: str | Path | None = None,
    *,
    pages: Pages | None = None,
    named: bool = True,
    dpi: int | None = None,
    progress: Progress = lambda done, total: None,
    started: Started = lambda folder, total: None,
    file_done: FileDone = lambda done: None,
    catalogue: FullCatalogue | None = None,
    dry_run: bool = False,
) -> RefreshReport:
    """Put today's guides, borders, masks and ruler guides into the files that are drawn on.

    What is drawn stays byte for byte. The old files are kept in the folder `before`. `pages` are
    page numbers (all if None): a page that is `named` by them is refreshed also where its panels
    are others than those that were drawn, or those of another page. With `dry_run` nothing is
    written. A file that cannot be worked on is left as it is and tells why; the others are done.
    `started`, `file_done` and `progress` hear of what happens when it does.
    Raises `InputError`, `MachineError`.
    """
    catalogue = catalogue or shipped()
    issue = load_issue(path, dpi=dpi, catalogue=catalogue)
    every = plan_issue(issue)
    plans = chosen(every, pages)
    folder = issue.folder(out)
    store = Store(folder, issue.path, Permissions(dry_run=dry_run))
    with (
        Unbroken() as stops,
        store.drawn_on() as before,
        Threads(1) as beside,
        _Line(beside, stops, file_done) as line,
    ):
        with stops.breakable():
            sure = pages is not None and named
            stood = {} if sure else stood_in(store, issue.file_name)
            gone = known_again(stood, every, PlanDigests(), partial(is_blank, store))
            work = [(plan, name) for plan in plans for name in _names_of(plan, store)]
            started(folder, len(work))
        for done, (plan, name) in enumerate(in_turn(work)):
            begun: Refreshed | NewFile
            with stops.breakable():
                progress(done, len(work))
                if plan.file_name in gone and not store.is_as_written(name):
                    other = elsewhere(plan, gone[plan.file_name], to_follow(path, out))
                    begun = Refreshed.refused(name, plan.numbers, other)
                else:
                    one = OneFile(store, before, plan, name, catalogue)
                    begun = one.begun(None if sure else every)
            line.add(begun)
        line.settle()
        progress(len(work), len(work))
    return RefreshReport(folder, tuple(line.found))


def undo_refresh(
    path: str | Path,
    out: str | Path | None = None,
    *,
    among: Collection[str] | None = None,
    catalogue: FullCatalogue | None = None,
) -> RefreshReport:
    """Put back the files that the last refresh replaced, but for those drawn on since.

    If some are not `among` these, nothing is done. Raises `InputError`, `MachineError`.
    """
    issue = load_issue(path, catalogue=catalogue or shipped())
    folder = issue.folder(out)
    store = Store(folder, issue.path, Permissions())
    found: list[Refreshed] = []
    with store.drawn_on() as before:
        if before and (among is None or before.last_files <= {*among}):
            try:
                undone = before.undo()
            except OSError as error:
                raise MachineError.from_os(f"putting files back in {folder}", error) from None
            for name, why in undone.items():
                found.append(Refreshed(name, (), "refused" if why else "put back", why))
                info = None if why else own_info(folder / name)
                if info and "layers" in info:
                    note_guides(store, name, info)
    return RefreshReport(folder, tuple(found))


class _Line:
    """Files in their order, and what became of them: `found`.

    What a file shows is worked out here; in a thread beside it is written and put in its place.
    While that goes on the next one is begun, and no more than that. Whatever ends the `with` block,
    what is under way ends, and is told of. It is broken where no thread can be left waiting.
    """

    def __init__(self, beside: Threads, stops: Unbroken, file_done: FileDone):
        self.found: list[Refreshed] = []
        self._beside, self._stops, self._file_done = beside, stops, file_done
        self._under_way: deque[Future[Refreshed]] = deque()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        with suppress(GuidekitError, CancelledError):  # the first failure is the one to tell
            self.settle()

    def add(self, begun: Refreshed | NewFile) -> None:
        """The next file. Raises `MachineError` of one before it."""
        if isinstance(begun, Refreshed):
            end = Future[Refreshed]()
            end.set_result(begun)
            self._under_way.append(end)
        else:
            self._make(begun)
        self.settle(1)

    def _make(self, new: NewFile) -> None:
        end = Future[Refreshed]()
        try:
            end = self._beside.submit(new.put)
            self._under_way.append(end)
            with self._stops.breakable():
                new.make()
        except BaseException:
            new.give_up()
            if end.cancel():  # it has not begun, and never will
                new.held.close()
            raise

    def settle(self, most: int = 0) -> None:
        """Wait until at most so many are under way, and tell of the others."""
        while len(self._under_way) > most:
            ended = self._under_way.popleft().result()
            self.found.append(ended)
            self._file_done(ended)


def _names_of(plan: PagePlan, store: Store) -> Iterator[str]:
    """The files of layers of one canvas that are there."""
    for suffix in LAYERED:
        name = f"{plan.file_name}{suffix}"
        if state_of(store.folder / name):
            yield name
