"""Work that goes on in threads beside, and a sentence where the system gives none."""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from typing import ParamSpec, TypeVar

from guidekit.errors import MachineError

P = ParamSpec("P")
T = TypeVar("T")


class Threads(ThreadPoolExecutor):
    """So many threads at most, which end what they were given before the `with` block ends."""

    def submit(self, work: Callable[P, T], /, *args: P.args, **kwargs: P.kwargs) -> Future[T]:
        """Do some work in one of them. Raises `MachineError`."""
        try:
            return super().submit(work, *args, **kwargs)
        except RuntimeError:
            raise MachineError(
                "starting a thread: the system allows no more of them. "
                "Nothing half-written was left; end some other programs and run again."
            ) from None
