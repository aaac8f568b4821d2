"""Whether a page has a guide: shown, hidden or off.

A preset, an issue and a page may each switch guides; the page's word counts before the issue's,
the issue's before the preset's. What none of them names is as the guide itself has it.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from typing import Annotated, Literal

from pydantic import BeforeValidator, ValidationInfo

from guidekit.errors import MOST_TOLD, Problem, WrongValueError, one_of, shown
from guidekit.registry import unknown

State = Literal["shown", "hidden", "off"]
STATES = ("shown", "hidden", "off")
#: Not a layer but positions to which an app snaps: a file has them, or it has them not.
RULER_GUIDES = "ruler_guides"


def _switches(value: object, info: ValidationInfo) -> dict[str, State]:
    if not isinstance(value, dict):
        raise WrongValueError(
            f"{shown(value)} is not a table", 'a table such as { thirds = "shown" }'
        )
    known = (info.context or {}).get("guides")
    if problems := [*_wrong_switches(value, known)]:
        raise WrongValueError.all(problems)
    return value


def _wrong_switches(given: dict[str, object], known: Collection[str] | None) -> Iterator[Problem]:
    for number, (name, state) in enumerate(given.items()):
        if known is not None and name not in known:
            suggest = number < len(known) + MOST_TOLD  # to compare names is slow
            yield unknown("guide", name, known, key=(name,), suggest=suggest)
            continue
        possible = ("shown", "off") if name == RULER_GUIDES else STATES
        if state not in possible:
            states = one_of(map(shown, possible))
            yield Problem((name,), f"{shown(state)} is not {states}", states)


#: The names are checked where the context of validation has all ``guides`` there are.
Switches = Annotated[dict[str, State], BeforeValidator(_switches)]


def switched(*tables: dict[str, State]) -> tuple[tuple[str, State], ...]:
    """The guides that tables switch, with their states; later tables count before earlier ones."""
    states: dict[str, State] = {}
    for table in tables:
        states |= table
    return tuple(states.items())
