"""What became of every file of an issue since it was written."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

#: Exactly as guidekit wrote it; drawn on, and its guides are today's; drawn on, and they are not;
#: not guidekit's; of no page of the issue any more; of a page, and not there.
Standing = Literal["empty", "drawn", "behind", "unknown", "left over", "missing"]
STATES: tuple[Standing, ...] = ("empty", "drawn", "behind", "unknown", "left over", "missing")


@dataclass(frozen=True)
class FileState:
    """One file: its name in the folder, whose canvas it is, what has `changed` since or is wrong.

    `pages` are page numbers, empty for a file of no page. If its page has another number in the
    issue's file than it was drawn with, `moved_to` has that, or nothing where there is none.
    """

    name: str
    state: Standing
    canvas: str
    pages: tuple[int, ...] = ()
    changed: tuple[str, ...] = ()
    moved_to: tuple[int, ...] | None = None


@dataclass(frozen=True)
class StatusReport:
    """Every file of an issue in the order of pages, then what is left over.

    `beside` are files of another format that have the name of one of ours, as a drawing app's own
    has. `renamed` are those that are left over for the issue's name alone, which has changed; they
    may follow it, by the call that is `follow`. `elsewhere` are folders that have a name which the
    issue had, with pages of it. `canvases` are how many the issue takes.
    """

    folder: Path
    files: tuple[FileState, ...]
    beside: tuple[str, ...] = ()
    canvases: int = 0
    counts: Mapping[Standing, int] = field(default_factory=dict)
    renamed: tuple[str, ...] = ()
    follow: str = ""
    elsewhere: tuple[Path, ...] = ()

    def of(self, state: Standing) -> tuple[FileState, ...]:
        """The files of one state."""
        return tuple(file for file in self.files if file.state == state)
