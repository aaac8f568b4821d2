"""Requests to stop, as Ctrl-C, that wait until what is under way is whole.

What the handler of a signal raises comes between any two steps of the main thread, those of the
standard library too: a thread may be started and not noted, so that nobody waits for it, or a lock
be taken and never let go, so that another thread waits for ever.
"""

from __future__ import annotations

import signal
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import current_thread, main_thread
from types import FrameType
from typing import Any, Self

#: Ctrl-C, a polite end, and a terminal that is closed, which not every system knows.
STOPS = [getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP") if name in dir(signal)]

Handler = Callable[[int, FrameType | None], Any]


class Unbroken:
    """A `with` block that no request to stop breaks: what a handler raises comes at its end.

    The handler itself is called at once: it may say that a second Ctrl-C ends the process. Threads
    beside the main one hear of no signal, and for them this is a plain block.
    """

    def __init__(self) -> None:
        self._handlers: dict[int, Handler] = {}  # those in whose place `_hear` is
        self._raised: list[BaseException] = []
        self._entered = self._breakable = False

    def __enter__(self) -> Self:
        self._entered = True
        try:
            for number in STOPS if current_thread() is main_thread() else ():
                handler = signal.getsignal(number)
                if callable(handler):
                    self._handlers[number] = handler
                    signal.signal(number, self._hear)
        except BaseException:  # another request has come meanwhile
            self.__exit__()
            raise
        return self

    def __exit__(self, *_: object) -> None:
        try:
            for number, handler in self._handlers.items():
                if signal.getsignal(number) == self._hear:  # else a handler has put another there
                    signal.signal(number, handler)
        finally:
            self._entered = False
        self._raise()

    @contextmanager
    def breakable(self) -> Iterator[None]:
        """In here it breaks, once: for what takes long and shares no lock with another thread."""
        self._breakable = True
        try:
            self._raise()
            yield
        finally:
            self._breakable = False

    def _hear(self, number: int, frame: FrameType | None) -> None:
        breaks, self._breakable = self._breakable, False
        try:
            self._handlers[number](number, frame)
        except BaseException as error:
            if breaks or not self._entered:
                raise
            self._raised.append(error)
        self._breakable = breaks

    def _raise(self) -> None:
        if self._raised:
            raise self._raised.pop(0)
