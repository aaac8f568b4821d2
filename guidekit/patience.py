"""Work that may take no longer than so many seconds, for it is others' and may never end."""

from __future__ import annotations

from collections.abc import Callable
from contextvars import copy_context
from threading import Thread
from typing import TypeVar

from guidekit.errors import MachineError

T = TypeVar("T")

SOON = 1.0  # seconds after which work is slow
DRIVE = 10.0  # seconds for a file that is named by its path, and may lie on a drive that is gone


def within(seconds: float, work: Callable[[], T], slow: Callable[[], object] | None = None) -> T:
    """What `work` gives or raises; raises `TimeoutError` if it is not done by then.

    It is done in a thread, so that whoever waits hears a Ctrl-C, whatever the work is about. After
    `SOON` seconds `slow` is called. Work that is late is left to itself: what runs in Python is
    ended there, what waits for the system ends with it or with the process. Where the system has
    no thread to give, it is waited for however long it takes.
    """
    came: list[T] = []
    failed: list[BaseException] = []

    def run() -> None:
        try:
            came.append(work())
        except BaseException as error:  # told to the one who waits
            failed.append(error)

    thread = Thread(target=copy_context().run, args=(run,), daemon=True)
    try:
        thread.start()
    except RuntimeError:
        return work()
    soon = min(SOON, seconds) if slow else 0.0
    if slow:
        thread.join(soon)
        if thread.is_alive():
            slow()
    thread.join(seconds - soon)
    if failed:
        raise failed[0]
    if not came:
        _end(thread)
        raise TimeoutError(f"no answer within {seconds:g} seconds")
    return came[0]


def answered(doing: str, work: Callable[[], T]) -> T:
    """What `work` reads of a file that is named; raises `MachineError` if its drive is silent."""
    try:
        return within(DRIVE, work)
    except TimeoutError as error:
        raise MachineError.from_os(doing, error) from None


def _end(thread: Thread) -> None:
    """Raise `SystemExit` in a thread, at the next step that it takes in Python."""
    import ctypes

    if thread.ident is not None:
        end = ctypes.pythonapi.PyThreadState_SetAsyncExc
        end(ctypes.c_ulong(thread.ident), ctypes.py_object(SystemExit))
