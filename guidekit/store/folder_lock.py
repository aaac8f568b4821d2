"""One build at a time works in a folder; the lock of a dead process is no lock.

The system's own lock on a small file that holds the number of the process: it ends with the
process, however that dies. Where a file system has none, the file itself is the lock, and is taken
over from a process that is no more.
"""

from __future__ import annotations

import contextlib
import errno
import os
import stat
import time
from collections.abc import Iterator
from pathlib import Path

from filelock import Timeout, lock_descriptor

from guidekit.errors import InputError, MachineError, Problem
from guidekit.store.files import open_ordinary

LOCK = ".guidekit.lock"
SOFT_LOCK = ".guidekit.soft-lock"
PATIENCE = 5.0  # seconds that a build waits for another one
STEP = 0.05  # seconds between two attempts

#: What a file system answers that knows no locks.
NO_LOCKS = {errno.ENOSYS, errno.ENOLCK, errno.ENOTSUP, errno.EOPNOTSUPP, errno.EINVAL}


@contextlib.contextmanager
def locked(folder: Path, who: str = "another build") -> Iterator[None]:
    """Hold the lock of a folder; raises `MachineError` that says who does, `InputError`.

    `who` is what holds such locks.
    """
    path = folder / LOCK
    until = time.monotonic() + PATIENCE
    try:
        while (file := _attempt(path)) is None:
            if time.monotonic() >= until:
                raise _busy(folder, who, _holder(path))
            time.sleep(STEP)
    except OSError as error:
        if error.errno not in NO_LOCKS:
            raise MachineError.from_os(f"locking the folder {folder}", error) from None
        _remove(path)
        with _softly_locked(folder, who):
            yield
        return
    try:
        yield
    finally:
        _remove(path, file)
        os.close(file)


def _attempt(path: Path) -> int | None:
    """The open file if we hold its lock now; None if somebody else does. Raises `OSError`."""
    file = _opened(path)
    try:
        state = os.fstat(file)
        if not stat.S_ISREG(state.st_mode) or state.st_nlink > 1:
            raise _in_the_way(path)
        if lock_descriptor(file, blocking=False) and _is_at(path, file):
            os.ftruncate(file, 0)
            os.write(file, b"%d\n" % os.getpid())
            kept, file = file, -1
            return kept
        return None
    finally:
        if file >= 0:
            os.close(file)


def _opened(path: Path) -> int:
    """The file of the lock, made if need be, never through a link and without waiting."""
    flags = os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0)
    try:
        return os.open(path, flags, 0o666)
    except OSError as error:
        with contextlib.suppress(OSError):
            if not stat.S_ISREG(path.lstat().st_mode):
                raise _in_the_way(path) from None
        raise error


def _is_at(path: Path, file: int) -> bool:
    """True if the open file is still the one of this name: its last holder may have removed it."""
    try:
        return os.path.samestat(path.lstat(), os.fstat(file))
    except FileNotFoundError:
        return False


def _remove(path: Path, file: int | None = None) -> None:
    """Remove the lock's file if it is ours; where an open file cannot be removed it stays, free."""
    with contextlib.suppress(OSError):
        if file is None or _is_at(path, file):
            path.unlink()


@contextlib.contextmanager
def _softly_locked(folder: Path, who: str) -> Iterator[None]:
    from filelock import SoftFileLock  # rarely needed, and slow to import

    lock = SoftFileLock(folder / SOFT_LOCK, timeout=PATIENCE, poll_interval=STEP)
    try:
        lock.acquire()
    except Timeout:
        raise _busy(folder, who, str(lock.pid or "")) from None
    except OSError as error:
        raise MachineError.from_os(f"locking the folder {folder}", error) from None
    try:
        yield
    finally:
        lock.release()


def _holder(path: Path) -> str:
    """The process that holds the lock, by its number; empty if that cannot be read."""
    with contextlib.suppress(OSError), open_ordinary(path, follow=False) as file:
        text = file.read(20).strip() if file else b""
        return text.decode() if text.isdigit() else ""
    return ""


def _busy(folder: Path, who: str, holder: str) -> MachineError:
    process = f" (process {holder})" if holder else ""
    return MachineError(
        f"{folder}: {who}{process} is at work in this folder. "
        "Nothing was written; wait until it is done and run again."
    )


def _in_the_way(path: Path) -> InputError:
    came = "this stands where the lock of a build belongs, and is none"
    allowed = "nothing, or a file that a build left"
    return InputError(Problem((), came, allowed, "Move it away.", path))
