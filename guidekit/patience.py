"""Work that may take no longer than so many seconds, for it is others' and may never end."""

from __future__ import annotations

from collections.abc import Callable
from threading import Thread
from typing import TypeVar

T = TypeVar("T")


def within(seconds: float, work: Callable[[], T]) -> T:
    """What `work` gives or raises; raises `TimeoutError` if it is not done by then.

    It is left to itself then, and ends with the process. Where the system has no thread to give,
    it is waited for however long it takes.
    """
    came: list[T] = []
    failed: list[BaseException] = []

    def run() -> None:
        try:
            came.append(work())
        except BaseException as error:  # told to the one who waits
            failed.append(error)

    thread = Thread(target=run, daemon=True)
    try:
        thread.start()
    except RuntimeError:
        return work()
    thread.join(seconds)
    if failed:
        raise failed[0]
    if not came:
        raise TimeoutError(f"no answer within {seconds:g} seconds")
    return came[0]
