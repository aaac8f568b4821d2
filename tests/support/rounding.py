"""The one rounding rule, told a second time."""

from fractions import Fraction
from math import floor


def nearest(x: Fraction) -> int:
    """The nearest whole number, the larger of two: floor(x + 1/2)."""
    return floor(x + Fraction(1, 2))
