"""How much of a width or height a panel gets: a weight, a length or a percentage."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated

from pydantic import BeforeValidator

from guidekit.errors import WrongValueError, shown
from guidekit.units import Length

_PERCENT = re.compile(r"\s*(\d{1,3}(?:\.\d{1,6})?)\s*%\s*")
_WEIGHT = r"\s*\d{1,6}(?:\.\d{1,6})?\s*"
_SIGNED_PERCENT = re.compile(r"\s*([+-]?\d{1,6}(?:\.\d{1,6})?)\s*%\s*")


@dataclass(frozen=True)
class Share:
    """Exactly one of the three: a share of the rest, a fixed length, a part of the whole."""

    weight: Fraction | None = None
    length: Length | None = None
    percent: Fraction | None = None

    def fixed(self, whole: int, dpi: int) -> Fraction | None:
        """The exact pixels of a length or percentage of `whole` pixels; None for a weight."""
        if self.length:
            return self.length.px(dpi)
        return self.percent * whole / 100 if self.percent is not None else None

    def __str__(self) -> str:
        if self.length:
            return str(self.length)
        return str(self.weight) if self.weight else f"{self.percent} %"


@dataclass(frozen=True)
class Position:
    """A place along one axis: a length or a percentage from the near edge; may lie outside."""

    length: Length | None = None
    percent: Fraction | None = None

    def opposite(self) -> Position:
        """As far to the other side."""
        if self.length:
            return Position(Length(-self.length.value, self.length.unit))
        return Position(percent=-(self.percent or Fraction(0)))

    def px(self, start: int, extent: int, dpi: int) -> Fraction:
        """The exact place in pixels, on an axis that begins at `start` and is `extent` long."""
        if self.length:
            return start + self.length.px(dpi)
        return start + (self.percent or 0) * Fraction(extent, 100)


EVEN = Share(weight=Fraction(1))


def _share(value: object) -> Share:
    if isinstance(value, Share):
        return value
    if isinstance(value, (int, float)) and not isinstance(value, bool):
        if not 0 < value <= 1_000_000:
            raise WrongValueError(
                f"{shown(value)} is not a weight", "a number above 0, up to a million"
            )
        return Share(weight=Fraction(str(value)))
    if not isinstance(value, str):
        allowed = 'a weight such as 2, a length such as "40 mm" or a percentage such as "30 %"'
        raise WrongValueError(f"{shown(value)} is not a share", allowed)
    if re.fullmatch(_WEIGHT, value):
        todo = f"Write {value.strip()}, without quotes."
        raise WrongValueError(f"{shown(value)} is text", "a weight", todo)
    return _size(value)


def _size(value: object) -> Share:
    if isinstance(value, Share) and not value.weight:
        return value
    if not isinstance(value, str):
        allowed = 'a length such as "40 mm" or a percentage such as "30 %"'
        raise WrongValueError(f"{shown(value)} is not a size", allowed)
    if percent := _PERCENT.fullmatch(value):
        if not 0 < (part := Fraction(percent[1])) <= 100:
            allowed = "a percentage above 0 and at most 100"
            came = "more than the whole" if part else "nothing"
            raise WrongValueError(f"{shown(value)} is {came}", allowed)
        return Share(percent=part)
    length = Length.parse(value)
    if length.value <= 0:
        raise WrongValueError(f"{shown(value)} is nothing or less", "a length above 0")
    return Share(length=length)


def read_position(value: object) -> Position:
    """A place along an axis, such as ``"40 mm"`` or ``"-25 %"``; raises `WrongValueError`."""
    if isinstance(value, Position):
        return value
    if isinstance(value, str) and (percent := _SIGNED_PERCENT.fullmatch(value)):
        return Position(percent=Fraction(percent[1]))
    if isinstance(value, str):
        return Position(length=Length.parse(value))
    allowed = 'a place such as "40 mm" or "-25 %", from the left or from the top'
    raise WrongValueError(f"{shown(value)} is not a place", allowed)


AnySize = Annotated[Share, BeforeValidator(_size)]
AnyPosition = Annotated[Position, BeforeValidator(read_position)]
AnyShare = Annotated[Share, BeforeValidator(_share)]
