"""Which kinds of guides there are, and whether a page has them: shown, hidden or off.

A preset, an issue and a page may each switch guides; the page's word counts before the issue's,
the issue's before the preset's. What none of them names is as it stands here.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BeforeValidator

from guidekit.errors import nearest, one_of

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
        raise ValueError('a table such as { thirds = "shown" }')
    for name, state in value.items():
        if name not in GUIDES:
            raise ValueError(f'{one_of(GUIDES)}; not "{name}". {nearest(name, GUIDES)}'.strip())
        if state not in STATES:
            raise ValueError(f"{name}: {one_of(STATES)}, in quotes")
    return value


Switches = Annotated[dict[str, State], BeforeValidator(_switches)]


def switched(*tables: dict[str, State]) -> tuple[tuple[str, State], ...]:
    """Every guide that is not off, with its state; later tables count before earlier ones."""
    states = dict(GUIDES)
    for table in tables:
        states |= table
    return tuple((name, state) for name, state in states.items() if state != "off")
