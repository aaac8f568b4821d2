"""What became of the files of pages since they were made, and small pictures of what is drawn."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path
from threading import Lock
from typing import TYPE_CHECKING

from guidekit.errors import InputError, MachineError, Problem
from guidekit.plane.box import Box
from guidekit.planner.picture import Data
from guidekit.shipped import FullCatalogue
from guidekit.store.files import state_of

if TYPE_CHECKING:
    from guidekit.drawn.standing.status_report import FileState

WHOLE = Box(0, 0, 1, 1)  # of any picture


class Standing:
    """The files in the folder beside an issue, as they were looked at last."""

    def __init__(self, path: Path, known: FullCatalogue):
        self.path, self.known = path, known
        self._drawn: dict[int, Path] = {}
        self.pictures: dict[Path, tuple[str, bytes | None]] = {}  # a file's last, behind its stamp
        self._one = Lock()  # a picture that is read whole takes as much memory as its pixels

    def look(self) -> dict[int, Data]:
        """By page number the ``state`` of its files, and a ``stamp`` of what is drawn on it if any.

        Of several files the one counts that is first in `overview.canvases.WORDS`; pages without a
        file are left out. Raises `InputError`, `MachineError`.
        """
        from guidekit.drawn.standing.status import (
            status_issue,
        )  # where nothing is built it is not needed
        from guidekit.overview.canvases import WORDS, best_drawn

        report = status_issue(self.path, catalogue=self.known)
        by_page: dict[int, list[FileState]] = {}
        for file in report.files:
            for page in file.pages if file.state != "missing" else ():
                by_page.setdefault(page, []).append(file)
        drawn = {page: best_drawn(files, report.folder) for page, files in by_page.items()}
        self._drawn = {page: paths[0] for page, paths in drawn.items() if paths}
        order = [*WORDS]
        return {
            page: {
                "state": min((file.state for file in files), key=order.index),
                "stamp": _stamp(self._drawn[page]) if page in self._drawn else "",
            }
            for page, files in by_page.items()
        }

    def picture(self, page: int) -> bytes:
        """A small JPEG of what is drawn on a page; raises `InputError` where there is none."""
        from guidekit.overview.thumbnails import thumbnail_of

        found, path = None, self._drawn.get(page)
        if path:
            stamp = _stamp(path)
            with self._one:
                try:
                    if self.pictures.get(path, ("",))[0] != stamp:
                        self.pictures[path] = stamp, thumbnail_of(path, WHOLE, WHOLE)
                except OSError as error:
                    raise MachineError.from_os(f"reading {path}", error) from None
                found = self.pictures[path][1]
        if not found:
            raise InputError(Problem((), "nothing is drawn on this page that can be shown"))
        return found


def _stamp(path: Path) -> str:
    """What is another one when a file is written to or replaced."""
    state = state_of(path)
    seen = (state.st_size, state.st_mtime_ns, state.st_ino) if state else ()
    return sha256(repr((path.name, seen)).encode()).hexdigest()[:16]
