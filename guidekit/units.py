"""Exact lengths: ``"6.625 in"``, ``"3 mm"``, ``"800 px"`` as fractions, and the one rounding rule.

A length keeps the unit it was written in. Only `half_up` turns a fraction into whole pixels, and
nothing is rounded before the end.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from math import radians, tan

INCH_IN_MM = Fraction(254, 10)  # exactly: International yard and pound agreement, 1959

#: Each unit in inches; ``px`` depends on nothing and has none.
UNITS = {
    "mm": 1 / INCH_IN_MM,
    "cm": 10 / INCH_IN_MM,
    "in": Fraction(1),
    "pt": Fraction(1, 72),  # CSS Values and Units 3, absolute lengths
    "px": None,
}
UNIT_NAMES = "mm, cm, in, pt or px"

_LENGTH = re.compile(r"\s*([+-]?\d{1,9}(?:\.\d{1,9})?|[+-]?\d{1,9}/\d{1,9})\s*([^\s\d]+)\s*")

_ANGLE = re.compile(r"\s*([+-]?\d{1,3}(?:\.\d{1,6})?)\s*deg\s*")


def half_up(x: Fraction) -> int:
    """Round to whole pixels: floor(x + 1/2).

    Python's `round` goes to the even neighbour at a tie, so that 2062.5 would become 2062 and
    2063.5 become 2064; US sizes at 300 dpi are full of such ties.
    """
    return (2 * x.numerator + x.denominator) // (2 * x.denominator)


@dataclass(frozen=True)
class Length:
    """A length as it was written: an exact value and its unit."""

    value: Fraction
    unit: str

    @classmethod
    def parse(cls, text: object) -> Length:
        """Read ``"3 mm"``, ``"6.625 in"``, ``"1/8 in"`` or ``"800 px"``.

        Raises `ValueError` with a sentence for a bare number, a strange unit or anything else.
        """
        if isinstance(text, Length):
            return text
        if isinstance(text, (int, float)) and not isinstance(text, bool) and abs(text) < 1e9:
            raise ValueError(f'a length needs its unit, as in "{text} mm" ({UNIT_NAMES})')
        found = _LENGTH.fullmatch(text) if isinstance(text, str) else None
        if not found:
            raise ValueError(
                f'a length is a number and a unit, as in "3 mm" or "1/8 in" ({UNIT_NAMES})'
            )
        number, unit = found.groups()
        if unit not in UNITS:
            raise ValueError(f'"{unit}" is no unit known here; use {UNIT_NAMES}')
        try:
            return cls(Fraction(number), unit)
        except ZeroDivisionError:
            raise ValueError("a fraction cannot have 0 below its line") from None

    def px(self, dpi: int) -> Fraction:
        """The exact number of pixels at `dpi` pixels per inch; ``px`` lengths are as they are."""
        inches = UNITS[self.unit]
        return self.value if inches is None else self.value * inches * dpi

    def mm(self, dpi: int) -> Fraction:
        """The exact number of millimetres; `dpi` matters for ``px`` lengths only."""
        return self.px(dpi) / dpi * INCH_IN_MM

    def __str__(self) -> str:
        exact = (self.value * 10_000).denominator == 1
        return f"{decimal(self.value) if exact else self.value} {self.unit}"


@dataclass(frozen=True)
class Slant:
    """How far a line leans: by an angle in degrees, or by the offset between its two ends.

    An upright line leans to the right at its top if positive; a level line falls to the right.
    """

    degrees: Fraction | None = None
    offset: Length | None = None

    @classmethod
    def parse(cls, text: object) -> Slant:
        """Read ``"10 deg"`` or a length such as ``"-8 mm"``; raises `ValueError`."""
        if isinstance(text, Slant):
            return text
        found = _ANGLE.fullmatch(text) if isinstance(text, str) else None
        if not found:
            try:
                return cls(offset=Length.parse(text))
            except ValueError:
                raise ValueError('a slant is an angle such as "10 deg" or a length') from None
        degrees = Fraction(found[1])
        if abs(degrees) > 80:
            raise ValueError("an angle from -80 to 80 deg")
        return cls(degrees=degrees)

    def opposite(self) -> Slant:
        """The same as a mirror shows it."""
        if self.offset:
            return Slant(offset=Length(-self.offset.value, self.offset.unit))
        return Slant(degrees=-self.degrees if self.degrees else None)

    def px(self, along: int, dpi: int) -> float:
        """The offset between the ends of a line that runs `along` pixels, in pixels."""
        if self.offset:
            return float(self.offset.px(dpi))
        return along * tan(radians(self.degrees or 0))


def decimal(x: Fraction, places: int = 4) -> str:
    """A fraction for people: ``6.625``, ``3``, ``35.4331``; at most `places` decimals."""
    scaled = half_up(abs(x) * 10**places)
    whole, part = divmod(scaled, 10**places)
    text = f"{whole}.{part:0{places}}".rstrip("0").rstrip(".") if places else str(whole)
    return f"-{text}" if x < 0 and scaled else text
