"""Exact lengths: ``"6.625 in"``, ``"3 mm"``, ``"800 px"`` as fractions, and the one rounding rule.

A length keeps the unit it was written in. Only `half_up` turns a fraction into whole pixels, and
nothing is rounded before the end.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from math import radians, tan

from guidekit.errors import WrongValueError, shown

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
AS_IN = 'a number and a unit, as in "3 mm" or "1/8 in"'

#: Other ways to write a unit that can mean nothing else.
SPELLINGS = {"inch": "in", "inches": "in", '"': "in", "”": "in", "″": "in", "pts": "pt",
             "°": "deg"}  # fmt: skip

_NUMBER = r"[+-]?(?:\d{1,9}(?:\.\d{1,9})?|\.\d{1,9})"
_LENGTH = re.compile(rf"\s*({_NUMBER}|[+-]?\d{{1,9}}/\d{{1,9}})\s*([^\s\d.,/+-]+)\s*")
_DECIMAL_COMMA = re.compile(r"\s*([+-]?\d{0,9}),(\d{1,9})\s*([^\s\d.,/+-]*)\s*")
_MIXED = re.compile(r"\s*(\d{1,5})[\s-]+(\d{1,5})/(\d{1,5})\s*([a-z]{2})\s*")
_ANGLE = re.compile(rf"\s*({_NUMBER})\s*(?:deg|°)\s*")


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

        Raises `WrongValueError` for a bare number, a strange unit or anything else.
        """
        if isinstance(text, Length):
            return text
        if isinstance(text, (int, float)) and not isinstance(text, bool) and abs(text) < 1e9:
            todo = f'Write "{text} mm", or another unit: cm, in, pt or px.'
            raise WrongValueError(f"{shown(text)} has no unit", AS_IN, todo)
        found = _LENGTH.fullmatch(text) if isinstance(text, str) else None
        if not found:
            raise WrongValueError(f"{shown(text)} is not a length", AS_IN, _rewritten(text))
        number, written = found.groups()
        unit = SPELLINGS.get(written.lower(), written.lower())
        if unit not in UNITS:
            raise WrongValueError(
                f"{shown(text)} has an unknown unit", AS_IN, f"Write {UNIT_NAMES}."
            )
        try:
            return cls(Fraction(number), unit)
        except ZeroDivisionError:
            raise WrongValueError(f"{shown(text)} has 0 below its line", AS_IN) from None

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

    An upright line leans to the right at its top if positive; a level line falls to the right. One
    that leans to the `corner` leans as far as it can: 1 that way, -1 the other way, 0 if it has one
    of the others.
    """

    degrees: Fraction | None = None
    offset: Length | None = None
    corner: int = 0

    @classmethod
    def parse(cls, text: object) -> Slant:
        """Read ``"10 deg"``, a length such as ``"-8 mm"``, ``"corner"`` or ``"-corner"``.

        Raises `WrongValueError`.
        """
        if isinstance(text, Slant):
            return text
        if isinstance(text, str) and text.strip() in ("corner", "-corner"):
            return cls(corner=-1 if text.strip()[0] == "-" else 1)
        degrees = angle(text)
        if degrees is None:
            try:
                return cls(offset=Length.parse(text))
            except WrongValueError:
                allowed = 'an angle such as "10 deg", a length such as "8 mm", or "corner"'
                raise WrongValueError(f"{shown(text)} is not a slant", allowed) from None
        if abs(degrees) > 80:
            raise WrongValueError(
                f"{shown(text)} is too flat", 'an angle from "-80 deg" to "80 deg"'
            )
        return cls(degrees=degrees)

    def opposite(self) -> Slant:
        """The same as a mirror shows it."""
        if self.offset:
            return Slant(offset=Length(-self.offset.value, self.offset.unit))
        return Slant(degrees=-self.degrees if self.degrees else None, corner=-self.corner)

    def px(self, along: int, dpi: int) -> float:
        """The offset between the ends of a line that runs `along` pixels, in pixels.

        One that leans to the corner depends on what is beside it.
        """
        if self.offset:
            return float(self.offset.px(dpi))
        return along * tan(radians(self.degrees or 0))


def angle(text: object) -> Fraction | None:
    """The degrees of ``"10 deg"`` or ``"10°"``; None for anything else."""
    found = _ANGLE.fullmatch(text) if isinstance(text, str) else None
    return Fraction(found[1]) if found else None


def _rewritten(text: object) -> str:
    """How to write what is nearly a length; empty for anything else."""
    if not isinstance(text, str):
        return ""
    if found := _DECIMAL_COMMA.fullmatch(text):
        whole, part, unit = found.groups()
        return f'Write "{whole or 0}.{part} {unit or "mm"}", with a point.'
    if (found := _MIXED.fullmatch(text)) and int(found[3]):
        number = int(found[1]) + Fraction(int(found[2]), int(found[3]))
        return f'Write "{decimal(number, 6)} {found[4]}".'
    if re.fullmatch(rf"\s*{_NUMBER}\s*", text):
        return f'Write "{text.strip()} mm", or another unit: cm, in, pt or px.'
    return ""


def decimal(x: Fraction, places: int = 4) -> str:
    """A fraction for people: ``6.625``, ``3``, ``35.4331``; at most `places` decimals."""
    scaled = half_up(abs(x) * 10**places)
    whole, part = divmod(scaled, 10**places)
    text = f"{whole}.{part:0{places}}".rstrip("0").rstrip(".") if places else str(whole)
    return f"-{text}" if x < 0 and scaled else text


def size_text(width: Length, height: Length) -> str:
    """A size for people: ``6.625 × 10.25 in``; each with its unit where they have two."""
    unit = "" if width.unit == height.unit else f" {width.unit}"
    return f"{decimal(width.value)}{unit} × {decimal(height.value)} {height.unit}"
