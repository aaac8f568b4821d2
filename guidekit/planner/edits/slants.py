"""A gutter turned about its middle."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import atan2, degrees
from typing import Any

from guidekit.errors import Key
from guidekit.issue.tree import Axis
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


def with_slant(
    page: Values, path: Key, axis: Axis, gap: int, slant: str, before: Sequence[str]
) -> Values:
    """The page with one gap of the row at `path` leaning; `before` are the slants of all gaps."""
    slants = [*before]
    slants[gap] = slant
    part: Any = at(page, path)
    own: Values = dict(part) if isinstance(part, dict) else {"panels": part}
    had_one = "slant" in own
    own.pop("slants", None)
    own.pop("slant", None)
    if len(set(slants)) == 1 and (had_one or len(slants) == 1):
        own["slant"] = slants[0]
    elif any(slant != STRAIGHT for slant in slants):
        own["slants"] = slants
    if own.get("slant") == STRAIGHT:
        del own["slant"]
    if set(own) == {"panels"} and path:
        return dict(with_at(page, path, own["panels"]))
    return dict(with_at(page, path, own))
