"""Digests of files, kept beside them, so that only what has changed is hashed again.

What is kept here is told and nothing more: no file is ever replaced because of it.
"""

from __future__ import annotations

import contextlib
import json
import os
import time
from pathlib import Path

from guidekit.errors import GuidekitError
from guidekit.store.files import find, state_of
from guidekit.store.record import contents, parsed
from guidekit.threads import Threads

SEEN = ".guidekit.seen"
SEEN_PART = f"{SEEN}.part"
YOUNG = 2_000_000_000  # nanoseconds: some file systems tell times in steps of two seconds

Stamp = tuple[int, int, int, int]


def _key(state: os.stat_result) -> Stamp:
    """What changes when a file is written to or replaced."""
    return (state.st_size, state.st_mtime_ns, state.st_ctime_ns, state.st_ino)


class SeenFiles:
    """The digests of the files in one folder."""

    def __init__(self, folder: Path):
        self.folder = folder
        self._known = _read(folder / SEEN)
        self._used: dict[str, tuple[Stamp, str]] = {}

    def digests(self, names: list[str]) -> dict[str, str]:
        """The SHA-256 of each file; none for what is no file. Raises `OSError`."""
        found: dict[str, str] = {}
        fresh: list[str] = []
        for name in names:
            state = state_of(self.folder / name)
            known = self._known.get(name)
            if state and known and known[0] == _key(state):
                found[name], self._used[name] = known[1], known
            else:
                fresh.append(name)
        if fresh:
            with Threads(2) as threads:
                hashed = [threads.submit(self._hash, name) for name in fresh]
                found |= zip(fresh, map(threads.result, hashed), strict=True)
        return found

    def _hash(self, name: str) -> str:
        now = time.time_ns()
        found = find(self.folder / name)
        if not found:
            return ""
        if now - found.state.st_mtime_ns > YOUNG:  # else it may change in the same tick
            self._used[name] = (_key(found.state), found.digest)
        return found.digest

    def save(self) -> None:
        """Keep them for the next time, where the folder can be written to."""
        if self._used == self._known:
            return
        part = self.folder / SEEN_PART
        text = json.dumps({name: [*key, digest] for name, (key, digest) in self._used.items()})
        with contextlib.suppress(OSError):
            part.unlink(missing_ok=True)
            with part.open("x", encoding="utf-8") as file:
                file.write(text)
            part.replace(self.folder / SEEN)


def _read(path: Path) -> dict[str, tuple[Stamp, str]]:
    """What was kept; nothing where that is not to be understood."""
    try:
        data = contents(path)
        kept = parsed(dict[str, tuple[int, int, int, int, str]], [data], path)[0] if data else {}
    except GuidekitError:
        return {}
    return {name: (row[:4], row[4]) for name, row in kept.items()}
