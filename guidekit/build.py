"""A whole issue from its text file to files of layers: the five stages on one screen."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from guidekit.geometry.plan import Pages, chosen, plan_issue
from guidekit.layers.choose import check_names, only
from guidekit.layers.prints import info_key, whole_info
from guidekit.layers.standard import standard_stack
from guidekit.measure import load_issue
from guidekit.memory import in_turn, remembering
from guidekit.preflight import preflight
from guidekit.shipped import FullCatalogue, shipped
from guidekit.store.folder import Outcome, Permissions, Store
from guidekit.store.queue import Queue, queued
from guidekit.store.record import FileEntry, Made
from guidekit.toml import TomlFile
from guidekit.writers.protocol import Writer

Progress = Callable[[int, int], None]  # canvases done, canvases in all
Started = Callable[[Path, int], None]  # the folder, canvases in all


@dataclass(frozen=True)
class Done:
    """A canvas that is done: its page numbers, its part of a page, and what became of its files."""

    canvas: str
    pages: tuple[int, ...]
    part: int | None
    files: dict[str, Outcome]


@dataclass(frozen=True)
class BuildReport:
    """What became of every file, by name in the order of pages; see `guidekit.store.folder`.

    `news` are those of the `cautions` that the last build in this folder did not give, `sizes` the
    widths and heights of the canvases in pixels, each once. `left_over` are the files of earlier
    builds of this issue that none of its pages makes any more.
    """

    folder: Path
    cautions: tuple[str, ...]
    files: dict[str, Outcome]
    left_over: tuple[str, ...] = ()
    news: tuple[str, ...] = ()
    canvases: int = 0
    sizes: tuple[tuple[int, int], ...] = ()

    def named(self, outcome: Outcome) -> tuple[str, ...]:
        """The files of one outcome."""
        return tuple(name for name, what in self.files.items() if what == outcome)

    @property
    def complete(self) -> bool:
        """True if all that was asked for is there."""
        return not self.named("kept") and not self.named("other dpi")


@dataclass(frozen=True)
class CheckReport:
    """An issue that can be built: its title, its pages, the canvases they take, the cautions."""

    title: str
    pages: int
    canvases: int
    cautions: tuple[str, ...]


@remembering()
def build_issue(
    path: str | Path | TomlFile,
    out: str | Path | None = None,
    *,
    formats: Sequence[str] = ("psd",),
    pages: Pages | None = None,
    dpi: int | None = None,
    layers: Sequence[str] = (),
    progress: Progress = lambda done, total: None,
    started: Started = lambda folder, total: None,
    page_done: Callable[[Done], None] = lambda done: None,
    catalogue: FullCatalogue | None = None,
    dry_run: bool = False,
    take_over: bool = False,
) -> BuildReport:
    """Build the canvases of an issue into a folder, by default one beside its file, named after it.

    `formats` are names of writers, `pages` page numbers (all if None; a function makes them from
    the number of the last page), `dpi` replaces the preset's (canvases of another resolution that
    are there stay as they are), `layers` are the names of the groups and layers to write (all if
    empty). With `dry_run` nothing is written, and the report tells what would be. `take_over` lets
    canvases of another issue be replaced, drawings never. `started`, `page_done` and `progress`
    hear of what happens when it does.
    `catalogue` has all that the issue and `formats` may name, by default what comes with guidekit.
    Raises `InputError` before anything is written, `MachineError` with no half-written file left;
    what was done until then stands in its notes, and in those of a `KeyboardInterrupt`.
    """
    catalogue = catalogue or shipped()
    issue = load_issue(path, dpi=dpi, catalogue=catalogue)
    every = plan_issue(issue)
    plans = chosen(every, pages)
    writers = _writers(formats, catalogue)
    notes = preflight(issue, plans, writers, catalogue)
    check_names((standard_stack(plan, catalogue.guides) for plan in in_turn(plans)), layers)
    folder = issue.folder(out)
    permissions = Permissions(dry_run=dry_run, keep_dpi=dpi is not None, take_over=take_over)
    store = Store(folder, issue.path, permissions)
    canvases = {plan.file_name: plan for plan in plans}

    def tell_done(queue: Queue) -> None:
        for name in queue.done():
            plan = canvases[name]
            page_done(Done(name, plan.numbers, plan.part, queue.files_of(name)))

    started(folder, len(plans))
    with store.opened(canvases), queued(store, canvases) as queue:
        for done, plan in enumerate(in_turn(plans)):
            progress(done, len(plans))
            stack = only(standard_stack(plan, catalogue.guides), layers)
            info = whole_info(stack)
            store.tell(info, key := info_key(info))
            for writer in writers:
                made = Made(stack.file_name, writer.name, stack.dpi, key)
                for output in writer.write(stack):
                    queue.put(*output, made)
            queue.end(plan.file_name)
            tell_done(queue)
        queue.settle()
        tell_done(queue)
        news = store.news(notes)
        progress(len(plans), len(plans))

    names, written = {plan.file_name for plan in every}, {writer.name for writer in writers}

    def is_stale(name: str, entry: FileEntry) -> bool:
        if entry.canvas not in canvases:
            return entry.canvas not in names
        made = entry.format in written and entry.was_written
        return made and not layers and name not in queue.files

    return BuildReport(
        folder,
        notes,
        queue.files,
        store.left_over(is_stale),
        news,
        len(plans),
        tuple(dict.fromkeys(plan.boxes.canvas.size for plan in plans)),
    )


@remembering()
def check_issue(
    path: str | Path | TomlFile,
    *,
    formats: Sequence[str] = ("psd",),
    dpi: int | None = None,
    catalogue: FullCatalogue | None = None,
) -> CheckReport:
    """Everything that a build of all pages looks at before it writes; nothing is written.

    Raises `InputError`.
    """
    catalogue = catalogue or shipped()
    issue = load_issue(path, dpi=dpi, catalogue=catalogue)
    plans = plan_issue(issue)
    writers = _writers(formats, catalogue)
    notes = preflight(issue, plans, writers, catalogue)
    return CheckReport(issue.issue.title, issue.pages, len(plans), notes)


def _writers(names: Sequence[str], catalogue: FullCatalogue) -> list[Writer]:
    """The writers of these names, each once."""
    found = (catalogue.writers.find(name, argument="formats")() for name in names)
    return list({writer.name: writer for writer in found}.values())
