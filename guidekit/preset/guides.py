"""Which kinds of guides there are, and whether a page has them: shown, hidden or off.

A preset, an issue and a page may each switch guides; the page's word counts before the issue's,
the issue's before the preset's. What none of them names is as it stands here.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import BeforeValidator

from guidekit.errors import MOST_TOLD, Problem, WrongValueError, nearest, one_of, shown

State = Literal["shown", "hidden", "off"]
STATES = ("shown", "hidden", "off")

#: Every kind of guide, the uppermost first. A shown guide that has nothing to show on a page, such
#: as the bleed of a page without bleed, is left out there.
GUIDES: dict[str, State] = {
    "page_label": "shown",
    "panel_numbers": "shown",
    "lettering_lines": "hidden",
    "perspective": "shown",
    "square_grid": "shown",
    "construction_lines": "hidden",
    "diagonals": "off",
    "thirds": "off",
    "panel_centre_lines": "off",
    "centre_lines": "hidden",
    "screen_marks": "shown",
    "fold_strip": "shown",
    "trim_marks": "off",
    "safe_area": "shown",
    "trim": "shown",
    "bleed": "shown",
    "gutters": "shown",
}


def _switches(value: object) -> dict[str, State]:
    if not isinstance(value, dict):
        raise WrongValueError(
            f"{shown(value)} is not a table", 'a table such as { thirds = "shown" }'
        )
    if problems := [*_wrong_switches(value)]:
        raise WrongValueError.all(problems)
    return value


def _wrong_switches(given: dict[str, object]) -> Iterator[Problem]:
    states = one_of(map(shown, STATES))
    for number, (name, state) in enumerate(given.items()):
        if name not in GUIDES:
            todo = nearest(name, GUIDES) if number < len(GUIDES) + MOST_TOLD else ""
            yield Problem((name,), "there is no such guide", one_of(GUIDES), todo)
        elif state not in STATES:
            yield Problem((name,), f"{shown(state)} is not {states}", states)


Switches = Annotated[dict[str, State], BeforeValidator(_switches)]


def switched(*tables: dict[str, State]) -> tuple[tuple[str, State], ...]:
    """Every guide that is not off, with its state; later tables count before earlier ones."""
    states = dict(GUIDES)
    for table in tables:
        states |= table
    return tuple((name, state) for name, state in states.items() if state != "off")
