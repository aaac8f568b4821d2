"""How a gutter bends: in an arc, or from point to point."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated

from pydantic import BeforeValidator

from guidekit.errors import WrongValueError, shown
from guidekit.issue.models.share import Position, read_position

MOST_POINTS = 100
AS_IN = (
    'a length such as "8 mm" or "10 %", or a list of points '
    'such as [["30 %", "4 mm"], ["70 %", "-4 mm"]]'
)


@dataclass(frozen=True)
class Bending:
    """How far the middle of an arc lies off the straight line, or points along and off that line.

    To the right or down if positive; percentages are of the length of the line. Points go along it
    from its upper or left end, or from the other end if they are `backward`.
    """

    offset: Position | None = None
    points: tuple[tuple[Position, Position], ...] = ()
    backward: bool = False

    def sideways(self) -> Bending:
        """An upright one as a mirror shows it: off to the other side."""
        if self.offset:
            return Bending(self.offset.opposite())
        return replace(self, points=tuple((along, off.opposite()) for along, off in self.points))

    def lengthways(self) -> Bending:
        """A level one as a mirror shows it: from its other end."""
        return replace(self, backward=not self.backward)

    def __bool__(self) -> bool:
        return bool(self.points or (self.offset and self.offset.px(0, 100, 100)))


def _bending(value: object) -> Bending:
    if isinstance(value, Bending):
        return value
    if isinstance(value, str):
        return Bending(read_position(value))
    if not isinstance(value, list) or not value:
        raise WrongValueError(f"{shown(value)} is not a bend", AS_IN)
    if len(value) > MOST_POINTS:
        raise WrongValueError(f"{len(value):,} points are too many", f"at most {MOST_POINTS}")
    points = []
    for point in value:
        if not isinstance(point, list) or len(point) != 2:
            raise WrongValueError(f"{shown(point)} is not a point of a bend", AS_IN)
        along, off = map(read_position, point)
        points.append((along, off))
    return Bending(points=tuple(points))


AnyBending = Annotated[Bending, BeforeValidator(_bending)]
