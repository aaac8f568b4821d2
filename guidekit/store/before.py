"""Files as they were before guidekit put something into them: kept, numbered, and put back.

They lie in the folder `before` and are never overwritten. A log beside them says which file each
was, and the digest of what took its place: only that may be undone, and nothing drawn since.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass, replace
from itertools import count
from pathlib import Path, PurePath
from typing import Annotated, BinaryIO, ClassVar

from pydantic import ConfigDict, Field

from guidekit.store.files import (
    find,
    flush,
    flush_folder,
    identity,
    keep_owner,
    part_of,
    put_in_place,
    state_of,
    write_whole,
)
from guidekit.store.ledger import Ledger
from guidekit.store.record import CHECKED, FileName, contents, parsed

BEFORE = "before"
LOG = f"{BEFORE}/.guidekit.log"


@dataclass(frozen=True)
class Replacement:
    """In a run, `file` was replaced by what has this digest; until then it was what `kept` is."""

    run: Annotated[int, Field(ge=1)]
    file: FileName
    kept: FileName
    sha256: str

    __pydantic_config__: ClassVar[ConfigDict] = CHECKED


class Before:
    """The old files of a folder that is locked."""

    def __init__(self, ledger: Ledger):
        self._ledger, self.folder = ledger, ledger.folder
        self.steps = _read(self.folder / LOG)
        self._run = self._last + 1

    @property
    def _last(self) -> int:
        return max((step.run for step in self.steps), default=0)

    @property
    def last_files(self) -> frozenset[str]:
        """The files that the last run replaced."""
        return frozenset(step.file for step in self.steps if step.run == self._last)

    def put(
        self,
        name: str,
        over: os.stat_result,
        write: Callable[[BinaryIO], None],
        check: Callable[[Path], str],
    ) -> str | None:
        """Put a new file, as `write` makes it, in the place of the old one; the name of that now.

        `over` is the state of the old one. `check` reads the new one once more before it appears,
        under its temporary name, and gives its SHA-256. None if the old one has changed; it then
        stays. Raises `OSError`.
        """
        path = self.folder / name
        with self._ledger.part_for(name) as part:
            with part.open("xb") as file:
                keep_owner(file.fileno(), over)
                write(file)
                flush(file)
            digest = check(part)
            now = state_of(path)
            if not now or identity(now) != identity(over):
                return None
            kept = self._keep(path)
            now = state_of(path)  # a new name for a file counts as a change of its state
            if not now or not _same(now, over):
                kept.unlink()
                return None
            kept_name = kept.relative_to(self.folder).as_posix()
            self._log([*self.steps, Replacement(self._run, name, kept_name, digest)])
            if not put_in_place(part, path, now):
                return None  # what was kept stays: nobody can say what it is now
            with contextlib.suppress(OSError):  # it is in its place, and the record comes after it
                flush_folder(self.folder)
            return kept_name

    def renamed(self, names: Mapping[str, str]) -> list[Replacement]:
        """The steps as they are when files have other names."""
        return [replace(step, file=names.get(step.file, step.file)) for step in self.steps]

    def note(self, steps: list[Replacement]) -> None:
        """Keep these steps in place of those that are there. Raises `OSError`."""
        if steps != self.steps:
            self._log(steps)

    def undo(self) -> dict[str, str]:
        """Put back what the last run replaced: why not, by the name of each file, empty if it is.

        Raises `OSError`.
        """
        last = self._last
        told: dict[str, str] = {}
        rest: list[Replacement] = []
        for step in self.steps:
            if step.run != last:
                rest.append(step)
            elif (why := self._put_back(step)) is not None:
                told[step.file] = why
                rest += [step] * bool(why)
        self.note(rest)
        return told

    def _put_back(self, step: Replacement) -> str | None:
        """Why it cannot be; empty if it is done, None if there is nothing to put back."""
        path, kept = self.folder / step.file, self.folder / step.kept
        old, now = state_of(kept), state_of(path)
        if not old or (now and os.path.samestat(old, now)):
            return None  # done already, or it never came to that
        found = find(path)
        if found and found.digest != step.sha256:
            return "it was drawn on since, and stays as it is"
        if not put_in_place(kept, path, found.state if found else None):
            return "it has changed just now, and stays as it is"
        kept.unlink(missing_ok=True)  # a link, where there was no file to put it in the place of
        flush_folder(path.parent)
        return ""

    def _keep(self, path: Path) -> Path:
        """Another name for a file under a number that is free; a copy where there are no links."""
        folder = self.folder / BEFORE
        folder.mkdir(exist_ok=True)
        name = PurePath(path.name)
        for number in count(1):
            kept = folder / f"{name.stem}.{number}{name.suffix}"
            if state_of(kept):
                continue
            try:
                os.link(path, kept)
            except FileExistsError:
                continue
            except FileNotFoundError:
                raise
            except OSError:  # a file system without links
                _copy(path, kept)
            break
        flush_folder(folder)
        flush_folder(self.folder)
        return kept

    def _log(self, steps: list[Replacement]) -> None:
        log = self.folder / LOG
        text = b"".join(json.dumps(asdict(step)).encode() + b"\n" for step in steps)
        with self._ledger.part_for(LOG) as part:
            write_whole(log, [text], part, state_of(log))
        flush_folder(log.parent)
        self.steps = steps


def _read(path: Path) -> list[Replacement]:
    data = contents(path)
    return parsed(Replacement, data.splitlines(), path) if data else []


def _copy(path: Path, kept: Path) -> None:
    part = part_of(kept)
    try:
        shutil.copyfile(path, part)
        with part.open("rb") as file:
            os.fsync(file.fileno())
        part.rename(kept)
    finally:
        part.unlink(missing_ok=True)


def _same(now: os.stat_result, then: os.stat_result) -> bool:
    """True if nobody has written to a file; a new name for it is no change."""
    return (now.st_dev, now.st_ino, now.st_size, now.st_mtime_ns) == (
        then.st_dev,
        then.st_ino,
        then.st_size,
        then.st_mtime_ns,
    )
