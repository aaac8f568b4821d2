"""A folder that may not answer: its files are read for as long as it does.

A folder on a drive of a network that is down is left out after `PATIENCE` seconds. A drive may die
between listing and reading: `Folder` waits no longer for a file either, and never twice.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from itertools import pairwise
from pathlib import Path
from typing import TypeVar

from guidekit.patience import within
from guidekit.store.files import open_ordinary

PATIENCE = 2.0  # seconds for a folder to answer
AHEAD = 20  # files that are read in one go by those who want all of them

T = TypeVar("T")


def in_time(work: Callable[[], T]) -> T:
    """What `work` in some folder gives; raises `TimeoutError` if there is no answer."""
    return within(PATIENCE, work)


class Folder:
    """A folder whose files are read, for as long as it answers."""

    def __init__(self, *files: Path):
        self._next = dict(pairwise(files))
        self._texts: dict[Path, bytes | OSError | None] = {}
        self._is_dead = False

    def done(self, work: Callable[[], T]) -> T:
        """What `work` in this folder gives; raises `TimeoutError` if there is no answer."""
        if self._is_dead:
            raise TimeoutError("no answer as before")
        try:
            return in_time(work)
        except TimeoutError:
            self._is_dead = True
            raise

    def text(self, path: Path) -> bytes | None:
        """What is in a file, and None for what is none; those after it are read as well."""
        if path not in self._texts:
            files = [path]
            while len(files) < AHEAD and files[-1] in self._next:
                files.append(self._next[files[-1]])
            self._texts |= self.done(partial(_texts, files))
        found = self._texts.pop(path)
        if isinstance(found, OSError):
            raise found
        return found


def _texts(files: list[Path]) -> dict[Path, bytes | OSError | None]:
    texts: dict[Path, bytes | OSError | None] = {}
    for path in files:
        try:
            with open_ordinary(path) as file:
                texts[path] = file.read().removeprefix(b"\xef\xbb\xbf") if file else None
        except OSError as error:
            texts[path] = error
    return texts
