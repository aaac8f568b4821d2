"""What an issue uses is written beside it, and used from there until that is moved on.

With its lock an issue is the same on every machine, whatever the studio's format has become since.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

from guidekit.studio.catalogue import Studio, studio
from guidekit.studio.lock.path import lock_path
from guidekit.studio.lock.used import Used, used_by
from guidekit.studio.lock.written import new_lock, write_lock


class Locking(NamedTuple):
    """The lock of an issue: where it lies, what it says, whether that is new, and of what it is."""

    path: Path
    lock: dict[str, Any]
    is_new: bool
    used: Used


def lock_issue(
    issue: str | Path,
    *,
    formats: Sequence[str] = ("psd",),
    update: bool = False,
    known: Studio | None = None,
) -> Locking:
    """Write what an issue uses beside it; what is locked already stays, unless with `update`.

    `formats` are those that it is built in, `known` is what there is to name, by default that of
    the maker's settings. Raises `InputError`, `MachineError`.
    """
    known = known or studio(issue)
    known = known.unlocked() if update else known
    path = known.issue or Path(issue)
    used = used_by(path, known.catalogue)
    lock = new_lock(used, known.brought.plugins, formats, known.lock)
    return Locking(lock_path(path), lock, write_lock(path, lock), used)
