"""Pixels as lengths and places, as a file writes them."""

from __future__ import annotations

from fractions import Fraction

from guidekit.issue.models.share import Position
from guidekit.units import UNITS, Length, decimal

#: Whole steps of what is laid down by hand, by unit; of others there are none.
STEPS = {"mm": Fraction(1, 2), "cm": Fraction(1, 20), "in": Fraction(1, 32)}


def length_of(px: int | Fraction, unit: str, dpi: int) -> Length:
    """So many pixels as a length, to a hundredth of a millimetre or a thousandth of an inch."""
    inches = UNITS[unit]
    if inches is None:
        return Length(Fraction(px), "px")
    places = 1000 if unit == "in" else 100
    return Length(Fraction(round(Fraction(px) / dpi / inches * places), places), unit)


def in_steps(px: int, unit: str, dpi: int) -> str:
    """A length in whole steps of half a millimetre or a thirty-second of an inch.

    As decimals, for ``71/32 in`` is found on no ruler; five of them say every step.
    """
    length, step = length_of(px, unit, dpi), STEPS.get(unit)
    return f"{decimal(round(length.value / step) * step, 5)} {unit}" if step else str(length)


def place_value(px: float, was: Position | None, extent: float, unit: str, dpi: int) -> str:
    """A place so many pixels from an edge: a percentage where it `was` one, else a length.

    Percentages are of `extent` pixels, and have one decimal.
    """
    if was and was.percent is not None:
        return f"{decimal(Fraction(round(px * 1000 / extent), 10), 1)} %"
    return in_steps(round(px), unit, dpi)
