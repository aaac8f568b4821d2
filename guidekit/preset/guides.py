"""Whether a page has a guide: shown, hidden or off.

A preset, an issue and a page may each switch guides; the page's word counts before the issue's,
the issue's before the preset's. What none of them names is as the guide itself has it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Annotated, Literal, Protocol

from pydantic import BeforeValidator, ValidationInfo

from guidekit.errors import InputError, Problem, WrongValueError, one_of, shown
from guidekit.registry import Registry, unknown
from guidekit.toml.model import at_most

State = Literal["shown", "hidden", "off"]
STATES: tuple[State, ...] = ("shown", "hidden", "off")


class Switchable(Protocol):
    """What is known here of a guide: which states it can have."""

    @property
    def states(self) -> tuple[State, ...]:
        """Most have all of them."""
        ...


def _switches(value: object, info: ValidationInfo) -> dict[str, State]:
    if not isinstance(value, dict):
        raise WrongValueError(
            f"{shown(value)} is not a table", 'a table such as { thirds = "shown" }'
        )
    known = (info.context or {}).get("guides")
    if problems := [*_wrong_switches(value, known)]:
        raise WrongValueError.all(problems)
    return value


def _wrong_switches(
    given: dict[str, object], known: Registry[Switchable] | None
) -> Iterator[Problem]:
    for name, state in given.items():
        if known is not None and name not in known:
            yield unknown("guide", name, known, key=(name,))
            continue
        try:
            states = STATES if known is None else known.find(name).states
        except InputError as error:  # one of a plug-in that cannot be loaded
            yield from (replace(problem, key=(name,)) for problem in error.problems)
            continue
        if state not in states:
            allowed = one_of(map(shown, states))
            todo = _meant(state)
            yield Problem((name,), f"{shown(state)} is not {allowed}", allowed, todo)


def _meant(state: object) -> str:
    """How to write a state as it is meant; empty where that cannot be known."""
    if isinstance(state, bool):
        return f"Write {shown('shown' if state else 'off')}."
    word = str(state).lower()
    return f"Write {shown(word)}." if word in STATES else ""


#: The names are checked where the context of validation has all ``guides`` there are.
Switches = Annotated[dict[str, State], BeforeValidator(_switches), at_most(100)]


def switched(*tables: dict[str, State]) -> tuple[tuple[str, State], ...]:
    """The guides that tables switch, with their states; later tables count before earlier ones."""
    states: dict[str, State] = {}
    for table in tables:
        states |= table
    return tuple(states.items())
