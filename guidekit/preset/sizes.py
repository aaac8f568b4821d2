"""Sizes and gaps of a page, and the short ways in which they may be written."""

from __future__ import annotations

from contextlib import suppress
from fractions import Fraction
from typing import Any, ClassVar

from pydantic import model_validator

from guidekit.toml.model import Model, NonNegativeLength
from guidekit.units import Length

EDGE_NAMES = ("top", "bottom", "inside", "outside")
ZERO = Length(Fraction(0), "mm")


def _a_table(data: Any) -> Any:
    """What `spell_out` could not read as a length is refused with the reason."""
    return data if isinstance(data, (dict, Model)) else Length.parse(data)


class Size(Model):
    """Width and height."""

    example: ClassVar = {"width": "6.625 in", "height": "10.25 in"}

    width: NonNegativeLength
    height: NonNegativeLength


class Edges(Model):
    """A length for each edge of the page; one length stands for all four."""

    example: ClassVar = {"top": "3 mm", "bottom": "3 mm", "inside": "0 mm", "outside": "3 mm"}
    _one_length = model_validator(mode="before")(_a_table)

    top: NonNegativeLength = ZERO
    bottom: NonNegativeLength = ZERO
    inside: NonNegativeLength = ZERO
    outside: NonNegativeLength = ZERO


class Gutter(Model):
    """The gaps: `across` between panels side by side, `down` between tiers."""

    example: ClassVar = {"across": "5 mm", "down": "8 mm"}
    _one_length = model_validator(mode="before")(_a_table)

    across: NonNegativeLength
    down: NonNegativeLength


_ONE_FOR_ALL = {"bleed": EDGE_NAMES, "safe_area": EDGE_NAMES, "gutter": ("across", "down")}


def spell_out(data: dict[str, Any]) -> dict[str, Any]:
    """One length for all edges, or for both gutters, written out as the table it stands for.

    American spellings become British ones.
    """
    data = dict(data)
    if "color" in data and "colour" not in data:
        data["colour"] = data.pop("color")
    if data.get("colour") == "gray":
        data["colour"] = "grey"
    for key, names in _ONE_FOR_ALL.items():
        with suppress(ValueError):
            data[key] = dict.fromkeys(names, Length.parse(data.get(key)))
    return data
