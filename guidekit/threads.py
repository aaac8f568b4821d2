"""Work that goes on in threads beside, and a sentence where the system gives none."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from itertools import islice
from typing import ParamSpec, TypeVar

from guidekit.errors import MachineError
from guidekit.stops import Unbroken

P = ParamSpec("P")
T = TypeVar("T")


class Threads(ThreadPoolExecutor):
    """So many threads at most, which end what they were given before the `with` block ends.

    If that fails they end what they have begun. A request to stop, as Ctrl-C, comes between two of
    the methods here, never within one.
    """

    def submit(self, work: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        """Do some work in one of them. Raises `MachineError`."""
        try:
            with Unbroken():
                return super().submit(work, *args, **kwargs)
        except RuntimeError:
            raise MachineError(
                "starting a thread: the system allows no more of them. "
                "Nothing half-written was left; end some other programs and run again."
            ) from None

    def result(self, given: Future[T]) -> T:
        """Wait for some work; what it gives or raises."""
        with Unbroken():
            return given.result()

    def shutdown(self, wait: bool = True, *, cancel_futures: bool = False) -> None:
        """Wait for all work, or for that which has begun."""
        with Unbroken():
            super().shutdown(wait, cancel_futures=cancel_futures)

    def __exit__(self, kind: type[BaseException] | None, *_: object) -> None:
        self.shutdown(cancel_futures=kind is not None)


def ahead(beside: Threads, items: Iterator[T]) -> Iterator[T]:
    """The same items; each is got in a thread beside while the one before it is worked with.

    Raises `MachineError`, and what getting them raises.
    """

    def some() -> list[T]:
        return [*islice(items, 1)]

    coming = beside.submit(some)
    while found := beside.result(coming):
        coming = beside.submit(some)
        yield found[0]
