"""What became of the canvases of an issue: the state of each, and what is drawn on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path, PurePath
from typing import TYPE_CHECKING

from guidekit.errors import InputError, MachineError, Problem
from guidekit.geometry.page import PagePlan
from guidekit.issue import LoadedIssue
from guidekit.overview.openings import View
from guidekit.shipped import FullCatalogue

if TYPE_CHECKING:
    from guidekit.drawn.standing.status_report import FileState, Standing

#: Of several files of a canvas the first of these that one of them has is told, in these words.
WORDS: dict[Standing, str] = {
    "behind": "drawn, older guides",
    "drawn": "drawn",
    "unknown": "not guidekit's",
    "empty": "not drawn yet",
    "missing": "no file",
}
DRAWN = ("behind", "drawn", "unknown")
#: Which file of a canvas a thumbnail is taken from: those first that bring one along.
BEST = (".psd", ".psb", ".ora", ".png", ".tif", ".tiff")


@dataclass(frozen=True)
class Canvases:
    """By the file name of a canvas: its state in words, and the files that are drawn on."""

    folder: Path
    states: dict[str, str] = field(default_factory=dict)
    drawn: dict[str, list[Path]] = field(default_factory=dict)

    def thumbnails(self, plans: Sequence[PagePlan]) -> dict[str, bytes]:
        """A JPEG of every canvas that is drawn on and can be read. Raises `MachineError`."""
        pictures = ((plan.file_name, self._thumbnail(plan)) for plan in plans)
        return {name: data for name, data in pictures if data}

    def _thumbnail(self, plan: PagePlan) -> bytes | None:
        for path in self.drawn.get(plan.file_name, ()):
            from guidekit.overview.thumbnails import thumbnail_of  # few issues are drawn on

            try:
                if data := thumbnail_of(path, plan.boxes.canvas, View(plan).seen):
                    return data
            except OSError as error:
                raise MachineError.from_os(f"reading {path}", error) from None
        return None


def canvases_of(file: LoadedIssue, folder: str | Path | None, catalogue: FullCatalogue) -> Canvases:
    """Those in a folder; nothing where the folder is not named and there is none beside the issue.

    Raises `InputError` for a folder that is named and not there.
    """
    place = file.folder(folder)
    if not place.is_dir():
        if folder is None:
            return Canvases(place)
        came, allowed = "there is no such folder", "the folder of a build"
        raise InputError(Problem((), came, allowed, file=place, argument="canvases"))
    # where nothing is built it is not needed
    from guidekit.drawn.standing.status import status_issue

    report = status_issue(file.path, place, dpi=file.preset.dpi, catalogue=catalogue)
    by_canvas: dict[str, list[FileState]] = {}
    for one in report.files:
        by_canvas.setdefault(one.canvas, []).append(one)
    return Canvases(
        place,
        {canvas: _state(found) for canvas, found in by_canvas.items()},
        {canvas: best_drawn(found, place) for canvas, found in by_canvas.items()},
    )


def _state(files: Sequence[FileState]) -> str:
    states = {one.state for one in files}
    return next((words for state, words in WORDS.items() if state in states), "")


def best_drawn(files: Sequence[FileState], folder: Path) -> list[Path]:
    """The files that are drawn on, those first that a picture is had from best."""
    paths = [PurePath(one.name) for one in files if one.state in DRAWN]
    fit = [path for path in paths if path.suffix.lower() in BEST]
    return [folder / path for path in sorted(fit, key=lambda p: BEST.index(p.suffix.lower()))]
