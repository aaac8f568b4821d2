"""A build in a thread, and how far it is."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidekit.errors import GuidekitError, InputError, Problem
from guidekit.shipped import FullCatalogue

if TYPE_CHECKING:
    from guidekit.build import BuildReport

Tell = Callable[[dict[str, Any]], None]


class Maker:
    """Makes the canvases of one issue, one build at a time."""

    def __init__(self, path: Path, known: FullCatalogue):
        self.path, self.known = path, known
        self.folder: Path | None = None
        self._busy = threading.Lock()

    def start(self, formats: Sequence[str], pages: Sequence[int] | None, tell: Tell) -> None:
        """Begin a build; `tell` hears of each page and of the end. Raises `InputError` if one runs.

        It is called in another thread.
        """
        if not self._busy.acquire(blocking=False):
            raise InputError(Problem((), "pages are being made already", todo="Wait for the end."))
        thread = threading.Thread(target=self._run, args=(formats, pages, tell), daemon=True)
        thread.start()

    def _run(self, formats: Sequence[str], pages: Sequence[int] | None, tell: Tell) -> None:
        from guidekit.build import build_issue  # what draws and writes, which few sessions need

        def progress(done: int, total: int) -> None:
            tell({"event": "making", "done": done, "total": total})

        try:
            report = build_issue(
                self.path, formats=formats, pages=pages, progress=progress, catalogue=self.known
            )
            self.folder = report.folder
            tell({"event": "made", **report_data(report)})
        except GuidekitError as error:
            tell({"event": "failed", "told": str(error)})
        finally:
            self._busy.release()


def states_of(path: Path, known: FullCatalogue) -> dict[int, str]:
    """Of pages that are drawn on the state, ``drawn`` or ``behind``, by page number.

    Looked up in the folder beside the issue, if a build was made there. Raises `InputError`,
    `MachineError`.
    """
    from guidekit.drawn.status import status_issue

    found: dict[int, str] = {}
    for file in status_issue(path, catalogue=known).files:
        if file.state in ("drawn", "behind"):
            for page in file.pages:
                if found.get(page) != "behind":
                    found[page] = file.state
    return found


def report_data(report: BuildReport) -> dict[str, Any]:
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
