"""What an issue may say about single panels: edges, borders, insets, perspective."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Annotated, Any, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from guidekit.errors import one_of
from guidekit.issue.share import AnyPosition, AnySize
from guidekit.preset.model import EDGE_NAMES
from guidekit.toml_file import Flag, Model, NonNegativeLength, WholeNumber

CORNERS = ("top-left", "top-right", "bottom-left", "bottom-right")
Corner = Literal["top-left", "top-right", "bottom-left", "bottom-right"]


def _sides(value: object) -> tuple[str, ...]:
    sides = (value,) if isinstance(value, str) else value
    if not isinstance(sides, (list, tuple)) or not (
        tuple(sides) == ("all",) or all(side in EDGE_NAMES for side in sides)
    ):
        raise ValueError(f'"all", or a list of {one_of(EDGE_NAMES)}')
    return tuple(dict.fromkeys(sides))


def _step(value: object) -> Fraction:
    found = isinstance(value, str) and re.fullmatch(r"\s*(\d{1,2}(?:\.\d{1,4})?)\s*deg\s*", value)
    if not found or not 1 <= (step := Fraction(found[1])) <= 90:
        raise ValueError('an angle from 1 to 90 degrees, as in "10 deg"')
    return step


class Wall(Model):
    """An upright plane in perspective, divided into equal parts by its diagonals.

    `near` and `far` are its two upright edges, `top` and `bottom` the ends of the near one; its
    other edges run to the vanishing point `point` (1 or 2).
    """

    near: AnyPosition
    far: AnyPosition
    top: AnyPosition
    bottom: AnyPosition
    point: Annotated[WholeNumber, Field(ge=1, le=2)] = 1
    parts: Annotated[WholeNumber, Field(ge=2, le=32)] = 2


class Perspective(Model):
    """Horizon, one or two vanishing points on it, a third off it, and rays from all.

    `horizon` is measured from the top, `points` from the left, `third` from the left and the top.
    """

    horizon: AnyPosition
    points: tuple[AnyPosition, ...]
    third: tuple[AnyPosition, AnyPosition] | None = None
    rays: Annotated[Fraction, BeforeValidator(_step)] = Fraction(10)
    wall: Wall | None = None

    @model_validator(mode="after")
    def _points_are_there(self) -> Self:
        if not 1 <= len(self.points) <= 2:
            raise ValueError("one or two points on the horizon")
        if self.wall and self.wall.point > len(self.points):
            raise ValueError(f"wall.point of at most {len(self.points)}, for so many are there")
        return self


class BreakOut(Model):
    """How far a panel breaks into the gutter on each side, as seen on the page."""

    top: NonNegativeLength | None = None
    bottom: NonNegativeLength | None = None
    left: NonNegativeLength | None = None
    right: NonNegativeLength | None = None


class PanelModel(Model):
    """What is special about one panel."""

    bleed: Annotated[tuple[str, ...], BeforeValidator(_sides)] = ()
    border: Flag | NonNegativeLength = True
    radius: NonNegativeLength | None = None
    break_out: BreakOut = BreakOut()
    perspective: Perspective | None = None


def _names(value: object) -> tuple[str, ...]:
    names = value if isinstance(value, (list, tuple)) else (value,)
    if not names or not all(isinstance(n, (int, str)) and not isinstance(n, bool) for n in names):
        raise ValueError("the number or letter of a panel, or a list of them")
    return tuple(str(name) for name in names)


class Inset(Model):
    """A panel laid over others, in a corner of them or `at` a place from their upper left.

    `gutter` is the clear margin round it, and in a corner also its distance from the edges.
    """

    over: Annotated[tuple[str, ...], BeforeValidator(_names)]
    width: AnySize
    height: AnySize
    corner: Corner | None = None
    at: tuple[AnyPosition, AnyPosition] | None = None
    gutter: NonNegativeLength | None = None
    border: Flag | NonNegativeLength = True
    radius: NonNegativeLength | None = None

    @model_validator(mode="before")
    @classmethod
    def _one_place(cls, data: Any) -> Any:
        if isinstance(data, dict) and ("corner" in data) == ("at" in data):
            raise ValueError(f"either corner ({one_of(CORNERS)}) or at, a list of two places")
        return data
