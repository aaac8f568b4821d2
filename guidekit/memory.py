"""What a build remembers: results of pure functions, for as long as its canvases ask for them.

Pages of one issue share most of what lies on them: guides, borders, the strips of the merged
picture. A `remembered` function works each of these out once::

    @remembering()
    def build(...):
        for plan in in_turn(plans):
            ...

How much is kept follows from the canvases: when one ends, what none of the last `KEPT` has used is
dropped, and when the build ends, all of it. Outside a build a remembered function is a plain one.

The memory is found through a context variable. So it belongs to one build in one thread: builds
side by side never meet, and a thread that a build starts works without.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass
from functools import wraps
from typing import Any, ParamSpec, TypeVar

P = ParamSpec("P")
T = TypeVar("T")

#: Canvases. Facing pages alternate: the last page of the same side is two canvases back.
KEPT = 2


@dataclass
class _Result:
    value: Any
    used: int  # the number of the canvas that asked for it last


class _Call:
    """A function with its arguments. They may be thousands of shapes, so they are hashed once."""

    __slots__ = ("_hash", "_parts")

    def __init__(self, *parts: object):
        self._parts, self._hash = parts, hash(parts)

    def __hash__(self) -> int:
        return self._hash

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Call) and self._parts == other._parts


class Memory:
    """The results of one build."""

    def __init__(self) -> None:
        self._results: dict[_Call, _Result] = {}
        self._canvas = 0

    def end_canvas(self) -> None:
        """Drop what none of the last `KEPT` canvases has used."""
        self._canvas += 1
        oldest = self._canvas - KEPT
        for call in [call for call, result in self._results.items() if result.used < oldest]:
            del self._results[call]

    def result(self, function: Callable[P, T], *args: P.args, **kwargs: P.kwargs) -> T:
        """What the function gives for these arguments, worked out if it is not known."""
        call = _Call(function, args, *kwargs.items())
        found = self._results.get(call)
        if found is None:
            found = self._results[call] = _Result(function(*args, **kwargs), 0)
        found.used = self._canvas
        value: T = found.value
        return value


_OPEN: ContextVar[Memory | None] = ContextVar("memory", default=None)


@contextmanager
def remembering() -> Iterator[Memory]:
    """A memory of its own for what is done inside; empty again afterwards."""
    memory = Memory()
    token = _OPEN.set(memory)
    try:
        yield memory
    finally:
        _OPEN.reset(token)
        memory._results.clear()


def in_turn(canvases: Iterable[T]) -> Iterator[T]:
    """Canvases one after the other; when one ends, the open memory drops what is out of use."""
    for canvas in canvases:
        yield canvas
        if memory := _OPEN.get():
            memory.end_canvas()


def remembered(function: Callable[P, T]) -> Callable[P, T]:
    """Let a build remember what a pure function of hashable arguments gives.

    All who ask share one result: nobody may change it.
    """

    @wraps(function)
    def answer(*args: P.args, **kwargs: P.kwargs) -> T:
        if memory := _OPEN.get():
            return memory.result(function, *args, **kwargs)
        return function(*args, **kwargs)

    return answer
