"""What a running build adds to the record, line by line; see `guidekit.store` for why it is true.

A line of JSON tells, before it happens, that a file will be written under a temporary name and
renamed, a second one that it has happened. The journal is there while a build runs, and after one
that was killed.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Callable, Iterable
from dataclasses import asdict, dataclass
from pathlib import Path, PurePath
from threading import Lock
from typing import BinaryIO, ClassVar

from pydantic import ConfigDict

from guidekit.store.files import PART, flush_folder
from guidekit.store.record import CHECKED, FileEntry, FileName, contents, parsed

JOURNAL = ".guidekit.journal"


@dataclass(frozen=True)
class JournalLine:
    """`file` will appear as in `entry` and is called `part` until then; without both, it has.

    Without an entry it is a drawing with other guides: whatever becomes of it, it is not to be
    taken for a file that guidekit has written.
    """

    file: FileName
    part: FileName | None = None
    entry: FileEntry | None = None

    __pydantic_config__: ClassVar[ConfigDict] = CHECKED


class Journal:
    """The journal of a running build; its file is made with the first line."""

    def __init__(self, path: Path):
        self._path = path
        self._file: BinaryIO | None = None
        self._lock = Lock()

    def begin(self, name: str, part: str, entry: FileEntry) -> None:
        """Tell that a file will appear, and have that on the disk. Raises `OSError`."""
        os.fsync(self._add(JournalLine(file=name, part=part, entry=entry)))

    def begin_drawing(self, name: str, part: str) -> None:
        """Tell of a drawing's part, so that it does not stay after a death. Raises `OSError`."""
        os.fsync(self._add(JournalLine(file=name, part=part)))

    def done(self, name: str) -> None:
        """Tell that a file has appeared. Raises `OSError`."""
        self._add(JournalLine(file=name))

    def close(self) -> None:
        """Close the file without removing it; another line would make a new one."""
        if self._file:
            with contextlib.suppress(OSError):  # no space for a line that was told to be missing
                self._file.close()
            self._file = None

    def _add(self, line: JournalLine) -> int:
        with self._lock:
            if self._file is None:
                self._file = self._path.open("xb")
                flush_folder(self._path.parent)
            self._file.write(json.dumps(asdict(line), ensure_ascii=False).encode() + b"\n")
            self._file.flush()
            return self._file.fileno()


def read_journal(path: Path) -> list[JournalLine]:
    """The lines that a killed build left; the last one may be cut off. Raises `InputError`."""
    whole, _, _ = (contents(path) or b"").rpartition(b"\n")
    return parsed(JournalLine, whole.splitlines(), path) if whole else []


def replayed(
    files: dict[str, FileEntry], lines: Iterable[JournalLine], digest_of: Callable[[str], str]
) -> dict[str, FileEntry]:
    """The record after a killed build; `digest_of` a file on the disk is empty if there is none."""
    begun: dict[str, FileEntry] = {}
    done: set[str] = set()
    for line in lines:
        if line.entry:
            begun[line.file] = line.entry
            done.discard(line.file)
        elif not line.part:
            done.add(line.file)
    result = dict(files)
    for name, entry in begun.items():
        digest, old = digest_of(name), files.get(name)
        undone = old is not None and digest == old.sha256
        if digest == entry.sha256 or (name in done and not undone):
            result[name] = entry
    return result


def parts_left(lines: Iterable[JournalLine]) -> list[str]:
    """The temporary names of a killed build, and no other name, whatever the journal holds."""
    names = [line.part for line in lines if line.part]
    return [name for name in names if PART.fullmatch(PurePath(name).name)]
