"""Work that takes its time, a build or new guides in drawings: in a thread, and how far it is."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidekit.errors import GuidekitError, InputError, Problem
from guidekit.shipped import FullCatalogue

if TYPE_CHECKING:
    from guidekit.build import BuildReport
    from guidekit.drawn.refreshing.refresh_report import RefreshReport

Event = dict[str, Any]
Tell = Callable[[Event], None]
Progress = Callable[[int, int], None]
Work = Callable[[Progress], Event]  # done by and by; what became of it at last


class Maker:
    """Works in the folder of one issue, at one thing at a time."""

    def __init__(self) -> None:
        self.folder: Path | None = None  # in which it worked last
        self._busy = threading.Lock()

    def start(self, work: Work, tell: Tell) -> None:
        """Begin; `tell` hears how far it is, and of the end. Raises `InputError` if it is at work.

        It is called in another thread.
        """
        if not self._busy.acquire(blocking=False):
            raise InputError(Problem((), "pages are being made already", todo="Wait for the end."))
        threading.Thread(target=self._run, args=(work, tell), daemon=True).start()

    def _run(self, work: Work, tell: Tell) -> None:
        def progress(done: int, total: int) -> None:
            tell({"event": "making", "done": done, "total": total})

        try:
            event = work(progress)
        except GuidekitError as error:
            event = {"event": "failed", "told": str(error)}
        else:
            self.folder = Path(event["folder"])
        finally:
            self._busy.release()
        tell(event)


def building(
    path: Path, known: FullCatalogue, formats: Sequence[str], pages: Sequence[int] | None
) -> Work:
    """Make the canvases of these pages, of all if None, in some formats."""

    def work(progress: Progress) -> Event:
        from guidekit.build import build_issue  # what draws and writes, which few sessions need

        report = build_issue(path, formats=formats, pages=pages, progress=progress, catalogue=known)
        return {"event": "made", **_built(report)}

    return work


def refreshing(
    path: Path, known: FullCatalogue, pages: Sequence[int] | None, *, look: bool
) -> Work:
    """Put today's guides into drawings, all that fit if None is named; or only `look` at them."""

    def work(progress: Progress) -> Event:
        from guidekit.drawn.refreshing.refresh import refresh_issue  # as above

        report = refresh_issue(path, pages=pages, progress=progress, catalogue=known, dry_run=look)
        return {"event": "looked" if look else "refreshed", **_refreshed(report)}

    return work


def putting_back(path: Path, known: FullCatalogue) -> Work:
    """Put back the files that today's guides were put into last."""

    def work(progress: Progress) -> Event:
        from guidekit.drawn.refreshing.refresh import undo_refresh  # as above

        return {"event": "put back", **_refreshed(undo_refresh(path, catalogue=known))}

    return work


def _built(report: BuildReport) -> dict[str, Any]:
    """What became of the files, for people."""
    return {
        "folder": str(report.folder.resolve()),
        "written": len(report.named("written")),
        "unchanged": len(report.named("unchanged")),
        "drawn": report.named("drawn"),
        "kept": report.named("kept"),
        "left_over": report.left_over,
        "cautions": report.news,
    }


def _refreshed(report: RefreshReport) -> dict[str, Any]:
    """What became of the drawings; of one that was only not known for its page, its page too."""
    done = (*report.named("refreshed"), *report.named("put back"))
    return {
        "folder": str(report.folder.resolve()),
        "done": [{"name": file.name, "changed": file.changed} for file in done],
        "notes": [f"{file.name}: {note}" for file in report.files for note in file.notes],
        "refused": [
            {
                "name": file.name,
                "why": file.unless_named or file.why,
                "pages": file.pages if file.unless_named else (),
            }
            for file in report.named("refused")
        ],
    }
