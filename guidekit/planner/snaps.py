"""Where an edge that is dragged comes to rest: halves, thirds, other edges, whole lengths."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from guidekit.planner.changes import Drag
from guidekit.planner.edits.shares import MovedEdge
from guidekit.planner.handles import Handle
from guidekit.units import UNITS, Length, half_up

#: How far apart the places of rest are that are whole lengths, by unit.
STEPS = {"mm": Fraction(1), "cm": Fraction(1, 10), "in": Fraction(1, 16), "pt": Fraction(3),
         "px": Fraction(10)}  # fmt: skip
LEAST = Fraction(3)  # millimetres that a panel keeps

RATIOS = (((1, 1), "half"), ((1, 2), "third"), ((2, 1), "third"))


@dataclass(frozen=True)
class Rest:
    """A moved edge, and what it rests at: half, third, edge, length or nothing."""

    edge: MovedEdge
    at: str


def rest_of(handle: Handle, drag: Drag, others: Iterable[Handle], unit: str, dpi: int) -> Rest:
    """Where an edge rests that is dragged; `others` are those it may come in line with."""
    to, near = drag.to, drag.near
    begin, end = handle.limits
    room = end - begin - handle.width
    least = min(room // 2, round(LEAST * dpi * 10 / 254))
    exact = min(max(to - handle.width / 2 - begin, least), room - least)
    wanted = round(exact)
    caught: list[tuple[int, int, Rest]] = []
    for ratio, word in () if drag.whole else RATIOS:
        size = round(Fraction(room * ratio[0], sum(ratio)))
        caught.append((abs(size - wanted), 0, _rest(handle.gap, size, room, word, ratio)))
    for other in others:
        if other.axis == handle.axis and not other.lean and other is not handle:
            size = round(other.middle - handle.width / 2) - begin
            if least <= size <= room - least:
                caught.append((abs(size - wanted), 1, _rest(handle.gap, size, room, "edge")))
    inches = UNITS[unit]
    step = STEPS[unit] * inches * dpi if inches else STEPS[unit]
    times = round(exact / step)
    size = half_up(times * step)
    if near and least <= size <= room - least:
        length = Length(times * STEPS[unit], unit)
        edge = MovedEdge(handle.gap, size, room - size, length=length)
        caught.append((abs(size - wanted), 2, Rest(edge, "length")))
    found = min((x for x in caught if x[0] < near), key=lambda x: (x[1] == 2, x[:2]), default=None)
    return found[2] if found else _rest(handle.gap, wanted, room, "")


def _rest(gap: int, size: int, room: int, word: str, ratio: tuple[int, int] | None = None) -> Rest:
    return Rest(MovedEdge(gap, size, room - size, ratio), word)
