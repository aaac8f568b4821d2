"""The values of a vertical scroll: heights in screens, ratios, gaps."""

from __future__ import annotations

import re
from fractions import Fraction

from guidekit.errors import WrongValueError, shown
from guidekit.units import Length


def read_height(value: object) -> Length | Fraction:
    """A height: a length, or so many screens."""
    found = isinstance(value, str) and re.fullmatch(
        r"\s*(\d{1,3}(?:\.\d{1,4})?)\s*screens?\s*", value
    )
    if found and Fraction(found[1]):
        return Fraction(found[1])
    allowed = 'a height such as "900 px" or "1.5 screens"'
    if found or not isinstance(value, str):
        raise WrongValueError(f"{shown(value)} is not a height", allowed)
    length = Length.parse(value)
    if length.value <= 0:
        raise WrongValueError(f"{shown(value)} is nothing or less", allowed)
    return length


def read_ratio(value: object) -> Fraction:
    """Width to height, as in ``"3:2"``."""
    found = isinstance(value, str) and re.fullmatch(r"\s*(\d{1,4})\s*:\s*(\d{1,4})\s*", value)
    if not found or not int(found[1]) or not int(found[2]):
        raise WrongValueError(f"{shown(value)} is not a ratio", 'width to height, as in "3:2"')
    return Fraction(int(found[1]), int(found[2]))


def read_gap(value: object) -> str | Length:
    """A gap by its name, or a length."""
    if value in ("close", "normal", "scene"):
        return str(value)
    if isinstance(value, str) and value[:1].isdigit():
        return Length.parse(value)
    allowed = '"close", "normal", "scene" or a length such as "300 px"'
    raise WrongValueError(f"{shown(value)} is not a gap", allowed)
