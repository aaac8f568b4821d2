"""How gutters lie: one turned about its middle, and what a row says of all of its gaps."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import atan2, degrees
from typing import Any

from guidekit.errors import Key
from guidekit.planner.edits.spots import Values, at, with_at
from guidekit.units import decimal

STRAIGHT = "0 deg"


def slant_towards(lean: float, along: int, fine: bool = False) -> str:
    """An angle for a gutter that runs `along` pixels, its ends `lean` pixels apart.

    To a whole degree, finely to a tenth; at most 60, for flatter ones cross the page.
    """
    places = 1 if fine else 0
    angle = max(-60.0, min(60.0, degrees(atan2(lean, along))))
    return f"{decimal(Fraction(str(round(angle, places))), places)} deg"


def with_lines(page: Values, path: Key, name: str, values: Sequence[Any], plain: Any) -> Values:
    """The page with other slants or bends of all gaps of the row at `path`.

    `name` is the key of what all gaps have, its plural that of a list; `plain` says nothing.
    """
    part: Any = at(page, path)
    own: Values = dict(part) if isinstance(part, dict) else {"panels": part}
    had_one = name in own
    own.pop(f"{name}s", None)
    own.pop(name, None)
    if all(value == values[0] for value in values) and (had_one or len(values) == 1):
        own[name] = values[0]
    elif any(value != plain for value in values):
        own[f"{name}s"] = [*values]
    if own.get(name) == plain:
        del own[name]
    if set(own) == {"panels"} and path:
        return dict(with_at(page, path, own["panels"]))
    return dict(with_at(page, path, own))
