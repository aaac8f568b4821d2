"""Folders that have a name which an issue had once, beside the one that has its name now."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from guidekit.errors import InputError
from guidekit.store.files import state_of
from guidekit.store.record import RECORD, FileEntry, read_record


def old_folders(issue: Path, folder: Path) -> Iterator[Path]:
    """Other folders beside an issue's `folder` in which canvases of it lie under their own name.

    `issue` is its file. What cannot be read is left out. Raises `OSError`.
    """
    for other in sorted(folder.parent.iterdir()):
        if other.name != folder.name and state_of(other / RECORD):
            with suppress(InputError, OSError):
                files = read_record(other / RECORD).files
                if any(_is_of(issue, other, name, entry) for name, entry in files.items()):
                    yield other


def _is_of(issue: Path, folder: Path, name: str, entry: FileEntry) -> bool:
    """True if a file is there that was made for this issue when that had the folder's name."""
    named = entry.canvas.startswith(f"{folder.name}-") and state_of(folder / name) is not None
    return named and (folder / entry.issue).samefile(issue)
