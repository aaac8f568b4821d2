"""What a page is given to draw and letter on: layers, and ruled lines."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated, Any, ClassVar, Literal

from pydantic import BeforeValidator, Field, model_validator

from guidekit.errors import WrongValueError, shown
from guidekit.toml.model import Model, Name, NonNegativeLength, WholeNumber
from guidekit.units import Length

MOST_LAYERS = 200  # to draw on


class Lettering(Model):
    """Height of capitals, the space between two lines of them, and where lines are ruled.

    They are ruled over the ``safe_area``, or as so many `lines` at the top of each of the
    ``panels``.

    Unless the preset says otherwise: capitals of 3.5/32 in on art that prints at 2/3 (common
    practice, no source), two thirds of that between the lines (US Navy, NAVEDTRA 14069, ch. 3).
    """

    example: ClassVar = {"capitals": "3 mm", "space": "2 mm"}
    renamed: ClassVar = {"fill": 'rule_over, which is "safe_area" or "panels"'}

    capitals: NonNegativeLength = Length(Fraction(7, 96), "in")
    space: NonNegativeLength = Length(Fraction(7, 144), "in")
    rule_over: Literal["safe_area", "panels"] = "safe_area"
    lines: Annotated[WholeNumber, Field(ge=1, le=100)] = 4


def _percent(value: object) -> Fraction:
    found = isinstance(value, str) and re.fullmatch(r"(\d{1,3}(?:\.\d{1,4})?)\s*%", value.strip())
    if not found or Fraction(found[1]) > 100:
        allowed = 'a percentage from 0 to 100, as in "60 %"'
        raise WrongValueError(f"{shown(value)} is not a percentage", allowed)
    return Fraction(found[1])


class DrawingLayer(Model):
    """An empty layer to draw on; a bare name stands for one at full opacity, in no group.

    It lies under the panel borders, or `above` them.
    """

    example: ClassVar = {"name": "Inks", "opacity": "60 %"}

    name: Name
    opacity: Annotated[Fraction, BeforeValidator(_percent)] = Fraction(100)
    blend: Literal["normal", "multiply"] = "normal"
    group: Name | None = None
    above: Literal["borders"] | None = None

    @model_validator(mode="before")
    @classmethod
    def _bare_name(cls, data: Any) -> Any:
        return data if isinstance(data, (dict, Model)) else {"name": data}

    def __str__(self) -> str:
        words = [] if self.opacity == 100 else [f"{self.opacity} %"]
        words += [] if self.blend == "normal" else [self.blend]
        words += [f"in {self.group}"] if self.group else []
        words += [f"above the {self.above}"] if self.above else []
        return f"{self.name} ({', '.join(words)})" if words else self.name
