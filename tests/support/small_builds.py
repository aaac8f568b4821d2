"""Builds of files of a few bytes, without an issue: for tests that build, and die, many times."""

import errno
import os
import signal
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from guidekit.store.folder import Outcome, Permissions, Store
from guidekit.store.queue import queued
from guidekit.store.record import Made

#: What the audit hook of Python hears of before it happens to a file.
STEPS = {"open", "os.link", "os.rename", "os.remove", "os.mkdir", "os.truncate"}

ORDINARY, DRY = Permissions(), Permissions(dry_run=True)


def data_of(version: int, canvas: str) -> bytes:
    """The bytes of a canvas as this version of its issue makes it."""
    return f"{canvas}, version {version}".encode() * 500


def put_all(
    out: Path,
    version: int,
    canvases: Sequence[str],
    rules: Permissions = ORDINARY,
    *,
    issue: str = "issue.toml",
    dpi: int = 600,
) -> dict[str, Outcome]:
    """Build the canvases, each a file of its own name, of an issue beside the folder."""
    store = Store(out, out.parent / issue, rules)
    with store.opened(canvases), queued(store, canvases) as queue:
        for canvas in canvases:
            queue.put(canvas, [data_of(version, canvas)], Made(canvas, "psd", dpi))
            queue.end(canvas)
    return queue.files


def in_child(work: Callable[[], object]) -> int:
    """Start a process that does this work and ends; its number."""
    child = os.fork()
    if not child:
        try:
            work()
            os._exit(0)
        finally:
            os._exit(1)
    return child


def killed(work: Callable[[], object], seconds: float) -> bool:
    """True if a process was killed while it did this work; False if it was done by then.

    A timer of its own kills it, with nothing run on the way: who waits for it may wake up late.
    """

    def timed() -> None:
        signal.setitimer(signal.ITIMER_REAL, max(seconds, 1e-6))
        work()

    return os.waitstatus_to_exitcode(os.waitpid(in_child(timed), 0)[1]) == -signal.SIGALRM


class FullAfter:
    """An `os.fsync` that tells once, after some calls that go well, that the disk is full."""

    def __init__(self, calls: int):
        self.left, self._real = calls, os.fsync

    def __call__(self, file: int) -> None:
        """Flush a file."""
        self.left -= 1
        if not self.left:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        self._real(file)


def dies_at(step: int, out: Path, work: Callable[[], object]) -> bool:
    """True if a process was dead before its `step`-th change to the folder; False if there is none.

    A flush is no step: what the next step finds is the same for all that see the folder.
    """

    def watched() -> None:
        left = step

        def hook(event: str, given: tuple[object, ...]) -> None:
            nonlocal left
            if event in STEPS and str(out) in str(given[0]):
                left -= 1
                if not left:
                    os._exit(9)

        sys.addaudithook(hook)
        work()

    status = os.waitpid(in_child(watched), 0)[1]
    code = os.waitstatus_to_exitcode(status)
    assert code in (0, 9)
    return code == 9
