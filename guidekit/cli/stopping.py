"""Ctrl-C and other requests to stop, while something is open that must be closed first."""

from __future__ import annotations

import contextlib
import os
import signal
import sys
from collections.abc import Iterator
from typing import Any, NoReturn

from guidekit.stops import STOPS


class Stopped(SystemExit):
    """One of `STOPS` came; it unwinds all that is open."""

    def __init__(self, number: int):
        self.number = number
        super().__init__(128 + number)

    def die(self) -> NoReturn:
        """End as the signal would have ended us, so that a shell's loop stops too."""
        with contextlib.suppress(OSError):
            sys.stdout.flush()
        if os.name == "posix":
            signal.signal(self.number, signal.SIG_DFL)
            os.kill(os.getpid(), self.number)
        sys.exit(self.code)


@contextlib.contextmanager
def stoppable() -> Iterator[None]:
    """Until its end the first of `STOPS` raises `Stopped`, and a second one ends the process."""
    before = {number: signal.getsignal(number) for number in STOPS}
    heard = [number for number in STOPS if before[number] is not signal.SIG_IGN]  # as nohup sets it
    hook = sys.unraisablehook

    def stop(number: int, _: object) -> NoReturn:
        for again in heard:
            signal.signal(again, signal.SIG_DFL)
        raise Stopped(number)

    def swallowed(unraisable: Any) -> None:
        """It came while Python was where nothing can be raised: the process ends as it is."""
        if isinstance(unraisable.exc_value, Stopped):
            signal.raise_signal(unraisable.exc_value.number)
        hook(unraisable)

    for number in heard:
        signal.signal(number, stop)
    sys.unraisablehook = swallowed
    try:
        yield
    finally:
        sys.unraisablehook = hook
        for number in heard:
            signal.signal(number, before[number])
