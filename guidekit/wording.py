"""How messages name what may be called: as Python has it, or as those know it who read them.

The library names its own functions and parameters. Whoever runs it for people who do not write
Python says with `worded` what stands for them there, as the command line does.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager


class Wording:
    """As Python has it."""

    def parameter(self, name: str, value: object = None) -> str:
        """A parameter, and the value to give it: ```dpi=300```."""
        return f"`{name}`" if value is None else f"`{name}={value!r}`"

    def call(self, function: str, *given: str, **values: object) -> str:
        """A function and what to call it with: ```lock_issue('salt-road.toml', update=True)```."""
        inside = [*map(repr, given), *(f"{name}={value!r}" for name, value in values.items())]
        return f"`{function}({', '.join(inside)})`"


_now = [Wording()]  # the last counts, in every thread


@contextmanager
def worded(wording: Wording) -> Iterator[None]:
    """Until its end messages are made with this wording."""
    _now.append(wording)
    try:
        yield
    finally:
        _now.pop()


def parameter(name: str, value: object = None) -> str:
    """See `Wording.parameter`."""
    return _now[-1].parameter(name, value)


def call(function: str, *given: str, **values: object) -> str:
    """See `Wording.call`."""
    return _now[-1].call(function, *given, **values)
