"""What became of every file of an issue since it was written: where you stand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from pathlib import Path, PurePath
from typing import Any

from guidekit.drawn.standing.changes import changes
from guidekit.drawn.standing.known_again import known_again, to_follow
from guidekit.drawn.standing.made_now import is_made_now
from guidekit.drawn.standing.own_words import LAYERED, own_info, recorded_info, why_unfit
from guidekit.drawn.standing.renamed_issue import under_other_name
from guidekit.drawn.standing.seen import SeenFiles
from guidekit.drawn.standing.status_report import STATES, FileState, Standing, StatusReport
from guidekit.drawn.standing.stood import is_of_now, stood_in
from guidekit.errors import MachineError
from guidekit.geometry.digest import PlanDigests
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import Pages, plan_issue
from guidekit.layers.standard import page_info
from guidekit.measure import load_issue
from guidekit.memory import in_turn, remembering
from guidekit.shipped import FullCatalogue, shipped
from guidekit.store.files import names_in
from guidekit.store.folder import Permissions, Store
from guidekit.store.old_folders import old_folders

FLAT = (".png", ".tif", ".tiff", ".svg", ".pdf")


@remembering()
def status_issue(
    path: str | Path,
    out: str | Path | None = None,
    *,
    pages: Pages | None = None,
    dpi: int | None = None,
    catalogue: FullCatalogue | None = None,
    known: Mapping[str, bool] | None = None,
) -> StatusReport:
    """What became of every file that builds of an issue wrote into a folder; no file is changed.

    The folder is by default the one beside the issue's file. `pages` are page numbers (all if
    None), `dpi` replaces the preset's. `known` says of files whether they are exactly as written,
    as a build knows it; others are hashed, or looked up if they have not changed since. Raises
    `InputError`, `MachineError`.
    """
    catalogue = catalogue or shipped()
    issue = load_issue(path, dpi=dpi, catalogue=catalogue)
    plans = plan_issue(issue, pages)
    folder = issue.folder(out)
    store = Store(folder, issue.path, Permissions(dry_run=True))
    looked = _Look(store, catalogue, issue.file_name, plans, known or {}, whole=pages is None)
    try:
        files, beside = looked.files(), looked.beside()
        renamed = looked.renamed(files) if pages is None else ()
        drawn = any(file.state in ("drawn", "behind") for file in files)
        elsewhere = () if out or drawn else tuple(old_folders(issue.path, folder))
    except OSError as error:
        raise MachineError.from_os(f"reading the folder {folder}", error) from None
    counts = Counter(file.state for file in files)
    return StatusReport(
        folder,
        tuple(files),
        tuple(beside),
        len(plans),
        {state: counts[state] for state in STATES if counts[state]},
        renamed,
        to_follow(path, out),
        elsewhere,
    )


class _Look:
    """One look at the folder of an issue."""

    def __init__(
        self,
        store: Store,
        catalogue: FullCatalogue,
        issue_name: str,
        plans: tuple[PagePlan, ...],
        known: Mapping[str, bool],
        *,
        whole: bool,
    ):
        self.store, self.catalogue, self.known, self.whole = store, catalogue, known, whole
        self.issue_name, self.plans = issue_name, plans
        self.by_canvas = {plan.file_name: plan for plan in plans}
        entries = store.look()
        self.entries = {n: e for n, e in entries.items() if whole or e.canvas in self.by_canvas}
        self.digests = PlanDigests()
        self.there = names_in(store.folder)

    def files(self) -> list[FileState]:
        """Every file, those of pages first and in their order."""
        there = [name for name in self.entries if self._is_there(name)]
        seen = SeenFiles(self.store.folder)
        digests = seen.digests([name for name in there if name not in self.known])
        as_written = {name: digest == self.entries[name].sha256 for name, digest in digests.items()}
        if not self.known:  # a build knows most of them, and would forget the rest
            seen.save()
        found = [self._recorded(name, {**as_written, **self.known}[name]) for name in there]
        found += self._not_recorded()
        if self.whole:
            found = [*self._with_moved(found)]
        found += self._missing(
            {(self.entries[name].canvas, self.entries[name].format) for name in there}, found
        )
        order = {canvas: number for number, canvas in enumerate(self.by_canvas)}
        return sorted(found, key=lambda file: (order.get(file.canvas, len(order)), file.name))

    def beside(self) -> list[str]:
        """Files of an ending that is none of ours under the name of a canvas, sorted."""
        return sorted(
            name
            for name in self.there
            if PurePath(name).stem in self.by_canvas
            and PurePath(name).suffix
            and PurePath(name).suffix.lower() not in (*LAYERED, *FLAT)
            and name not in self.entries
        )

    def renamed(self, files: list[FileState]) -> tuple[str, ...]:
        """Those of the files that stand under another name of the issue."""
        there = [self.entries[file.name] for file in files if file.name in self.entries]
        drawn = {file.canvas for file in files if not _is_empty(file)}
        found = under_other_name(
            self.store, there, self.plans, self.issue_name, lambda canvas: canvas not in drawn
        )
        return tuple(file.name for file in files if file.canvas in found)

    def _recorded(self, name: str, as_written: bool) -> FileState:
        entry = self.entries[name]
        plan = self.by_canvas.get(entry.canvas)
        if plan is None:
            return FileState(name, "left over", entry.canvas, changed=_whether(as_written))
        info = recorded_info(self.store, entry)
        if as_written:
            changed = self._changed(info, plan) if info else ()
            return FileState(name, "empty", entry.canvas, plan.numbers, changed)
        unfit: tuple[str, ...] = ()
        if PurePath(name).suffix.lower() in LAYERED:
            path = self.store.folder / name
            unfit, info = why_unfit(path), own_info(path) or info
        changed = self._changed(info, plan)
        state: Standing = "behind" if changed else "drawn"
        return FileState(name, state, entry.canvas, plan.numbers, (*changed, *unfit))

    def _not_recorded(self) -> Iterator[FileState]:
        """Files that stand where ours would, or say that they are ours."""
        for name in in_turn(sorted(self.there - self.entries.keys())):
            path = PurePath(name)
            canvas, layered = path.stem, path.suffix.lower() in LAYERED
            plan = self.by_canvas.get(canvas)
            if plan and not layered and path.suffix.lower() not in FLAT:
                continue
            begins = name.startswith(f"{self.issue_name}-p") and not self.store.is_of_another_issue(
                name
            )
            if not plan and not (self.whole and layered and begins):
                continue
            info = own_info(self.store.folder / name) if layered else None
            if plan is None:
                yield FileState(name, "left over" if info else "unknown", canvas)
            elif info is None:
                yield FileState(name, "unknown", canvas, plan.numbers)
            else:
                changed = self._changed(info, plan)
                state: Standing = "behind" if changed else "drawn"
                if not changed and is_made_now(self.store.folder / name, plan, self.catalogue):
                    state = "empty"
                yield FileState(name, state, canvas, plan.numbers, changed)

    def _with_moved(self, files: list[FileState]) -> Iterator[FileState]:
        """The same files; of drawings whose pages were moved by hand it is told where to."""
        written = {file.name for file in files if file.name in self.entries and _is_empty(file)}
        stood = stood_in(self.store, self.issue_name, written)
        drawn = {file.canvas for file in files if not _is_empty(file)}
        moved = known_again(stood, self.plans, self.digests, lambda canvas: canvas not in drawn)
        for file in files:
            if file.canvas not in moved or _is_empty(file) or file.state == "unknown":
                yield file
                continue
            page = moved[file.canvas]
            told = f"its page is {page.called} now" if page else "its page is taken out"
            state: Standing = "behind" if file.state == "drawn" else file.state
            numbers = page.numbers if page else ()
            yield replace(file, state=state, changed=(told,), moved_to=numbers)

    def _missing(
        self, there: Collection[tuple[str, str]], found: list[FileState]
    ) -> list[FileState]:
        """Canvases without a file in a format in which builds have written any.

        Where no record tells of builds, any file of layers does.
        """
        formats = sorted({entry.format for entry in self.entries.values()})
        taken = {(file.canvas, LAYERED.get(PurePath(file.name).suffix.lower())) for file in found}
        seen = {*there, *taken} if formats else {(canvas, "") for canvas, kind in taken if kind}
        return [
            FileState(
                canvas, "missing", canvas, plan.numbers, (f"no {kind}",) if formats[1:] else ()
            )
            for canvas, plan in self.by_canvas.items()
            for kind in formats or [""]
            if (canvas, kind) not in seen
        ]

    def _changed(self, info: dict[str, Any] | None, plan: PagePlan) -> tuple[str, ...]:
        if is_of_now(info, plan, self.digests):
            return ()
        return changes(info, page_info(plan, self.digests.of(plan)))

    def _is_there(self, name: str) -> bool:
        return name in self.there if "/" not in name else (self.store.folder / name).exists()


def _is_empty(file: FileState) -> bool:
    """True for a file that nobody drew on."""
    return file.state == "empty" or (file.state == "left over" and not file.changed)


def _whether(as_written: bool) -> tuple[str, ...]:
    return () if as_written else ("drawn on",)
