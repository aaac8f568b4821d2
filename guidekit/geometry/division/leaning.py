"""Gutters that lean as far as they can: until a part beside them ends in a point."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import hypot, inf

ENDS = (1, -1)  # the end toward which a positive lean goes, and the other
HALVINGS = 60  # of a length: to a millionth of a pixel, and far less


@dataclass(frozen=True)
class Lean:
    """A gutter `gap` pixels wide that turns about `middle` and runs `along` pixels.

    `lean` is the offset between its ends. `corner` is 1 or -1 for one that leans on that way, and 0
    for one that does not.
    """

    middle: float
    gap: int
    along: int
    lean: float
    corner: int = 0

    def at(self, end: int) -> tuple[float, float]:
        """Where its two edges meet an end."""
        middle = self.middle + end * self.lean / 2
        half = self.gap / 2 * hypot(1, self.lean / self.along)
        return middle - half, middle + half

    def leant(self, far: float) -> Lean:
        """The same, leaning so far if it still leans on."""
        return replace(self, lean=self.corner * far) if self.corner else self


def room(gutters: Sequence[Lean], part: int, end: int, low: int, high: int) -> float:
    """The width of a part at one end, in a row from `low` to `high`."""
    begin = gutters[part - 1].at(end)[1] if part else low
    return (gutters[part].at(end)[0] if part < len(gutters) else high) - begin


def leaning(gutters: Sequence[Lean], low: int, high: int) -> list[Lean]:
    """The gutters of a row from `low` to `high`, those to the corner leaning as far as they can.

    All lean on alike, and those beside a part that ends in a point stop.
    """
    found, far = list(gutters), 0.0
    moving = {i for i, gutter in enumerate(found) if gutter.corner}
    most = {part: _farthest(found, part, low, high, far) for part in range(len(found) + 1)}
    while moving:
        part = min(most, key=lambda part: most[part])
        far = most[part]
        for i in {part - 1, part} & moving:
            found[i] = replace(found[i].leant(far), corner=0)
        moving -= {part - 1, part}
        for near in {part - 1, part, part + 1} & most.keys():
            most[near] = _farthest(found, near, low, high, far)
    return found


def _farthest(gutters: Sequence[Lean], part: int, low: int, high: int, far: float) -> float:
    """How far the gutters beside a part, which lean `far`, may lean until it ends in a point."""
    beside = gutters[max(part - 1, 0) : part + 1]
    if not any(gutter.corner for gutter in beside):
        return inf

    def fits(lean: float) -> bool:
        leant = [gutter.leant(lean) for gutter in beside]
        return all(room(leant, min(part, 1), end, low, high) >= 0 for end in ENDS)

    begin, beyond = far, far + 4 * (high - low)
    for _ in range(HALVINGS):
        middle = (begin + beyond) / 2
        begin, beyond = (middle, beyond) if fits(middle) else (begin, middle)
    return begin
