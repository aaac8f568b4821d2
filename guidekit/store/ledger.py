"""The record of one folder, kept true while files appear there."""

from __future__ import annotations

import contextlib
import errno
import os
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from guidekit.errors import MachineError
from guidekit.store.files import (
    behind_link,
    find,
    flush_folder,
    folders_above,
    part_of,
    remove_part,
    state_of,
    write_whole,
)
from guidekit.store.journal import JOURNAL, Journal, JournalLine, parts_left, read_journal, replayed
from guidekit.store.record import (
    RECORD,
    RECORD_PART,
    VERSION,
    FileEntry,
    Record,
    read_record,
    record_text,
)


class Ledger:
    """What guidekit wrote into a folder: `files` by name, in memory, in the journal, on the disk.

    Files may be written by several threads, each of another name.
    """

    def __init__(self, folder: Path):
        self.folder = folder
        self.files: dict[str, FileEntry] = {}
        self.cautions: list[str] = []  # what the last build told
        self.infos: dict[str, dict[str, Any]] = {}  # what is known of canvases, by key
        self._saved = Record(VERSION, {})  # the record on the disk
        self._journal = Journal(folder / JOURNAL)
        self._state: os.stat_result | None = None  # of the folder when it was opened
        self._new_names: set[Path] = set()  # folders in which files appeared

    def read(self) -> list[JournalLine]:
        """Read the record and the journal of a killed build, whose lines these are.

        Raises `InputError`, `OSError`.
        """
        lines = read_journal(self.folder / JOURNAL)  # first: a build that ends removes it last
        self._saved = read_record(self.folder / RECORD)
        self.cautions = self._saved.cautions
        self.infos = dict(self._saved.infos)
        self.files = replayed(self._saved.files, lines, self._digest)
        return lines

    def open(self) -> None:
        """`read`, and bring to order what a killed build left; the folder must be locked.

        Raises `InputError`, `OSError`.
        """
        self._state = self.folder.stat()
        for name in (*parts_left(self.read()), RECORD_PART):
            if not behind_link(self.folder, name):
                remove_part(self.folder / name)
        self.close()  # folds the journal, if there is one

    def write(
        self, name: str, pieces: Sequence[bytes], entry: FileEntry, over: os.stat_result | None
    ) -> bool:
        """Write a file over nothing, or over the one of this state; False if another is there.

        Raises `OSError`.
        """
        self._check_folder()
        path = self.folder / name
        for above in folders_above(self.folder, name):
            above.mkdir(exist_ok=True)
        part = part_of(path)
        self._journal.begin(name, part.relative_to(self.folder).as_posix(), entry)
        self._new_names.update((path.parent, *folders_above(self.folder, name)))
        try:
            if not write_whole(path, pieces, part, over):
                return False
            self._journal.done(name)
        except BaseException:
            with contextlib.suppress(OSError):
                if self._digest(name) == entry.sha256:  # it failed when all but done
                    self.files[name] = entry
            raise
        self.files[name] = entry
        return True

    @contextlib.contextmanager
    def part_for(self, name: str) -> Iterator[Path]:
        """A temporary name for a drawing; nothing of it is left. Raises `OSError`."""
        self._check_folder()
        part = part_of(self.folder / name)
        self._journal.begin_drawing(name, part.relative_to(self.folder).as_posix())
        try:
            yield part
        finally:
            part.unlink(missing_ok=True)

    def close(self) -> None:
        """Bring names and record to the disk, and only then remove the journal.

        Raises `MachineError`; the journal then stays, and the record is true with it.
        """
        journal, record = self.folder / JOURNAL, self.folder / RECORD
        used = {entry.info for entry in self.files.values()}
        infos = {key: info for key, info in self.infos.items() if key in used}
        record_now = Record(VERSION, dict(self.files), self.cautions, infos)
        try:
            if record_now == self._saved and not state_of(journal):
                return
            self._check_folder()
            self._journal.close()
            for folder in {self.folder, *self._new_names}:
                flush_folder(folder)
            if record_now != self._saved:
                part = self.folder / RECORD_PART
                if not write_whole(record, [record_text(record_now)], part, state_of(record)):
                    raise FileExistsError(errno.EEXIST, "somebody else has changed it just now")
                flush_folder(self.folder)
                self._saved = record_now
            journal.unlink(missing_ok=True)
        except OSError as error:
            raise MachineError.from_os(f"writing {record}", error) from None

    def _check_folder(self) -> None:
        """Raise `MachineError` if the folder is not the one that was opened."""
        now = state_of(self.folder.resolve())
        if not self._state or not now or not os.path.samestat(now, self._state):
            raise MachineError(
                f"{self.folder}: this folder was moved, removed or replaced while the build ran. "
                "What was written before is where it went; see to it and run again."
            )

    def _digest(self, name: str) -> str:
        found = None if behind_link(self.folder, name) else find(self.folder / name)
        return found.digest if found else ""
