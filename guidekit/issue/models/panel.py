"""What an issue may say about single panels: edges, borders, insets, perspective."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, ClassVar, Literal, Self

from pydantic import BeforeValidator, Field, model_validator

from guidekit.errors import WrongValueError, one_of, shown
from guidekit.issue.models.own_shape import Figure, Level, OwnShape
from guidekit.issue.models.share import AnyPosition, AnySize
from guidekit.preset.sizes import EDGE_NAMES
from guidekit.toml.model import Model, NonNegativeLength, WholeNumber, at_most, not_negative
from guidekit.units import Length, angle

SIDE_NAMES = (*EDGE_NAMES, "left", "right")
CORNERS = ("top-left", "top-right", "bottom-left", "bottom-right")
Corner = Literal["top-left", "top-right", "bottom-left", "bottom-right"]


def _sides(value: object) -> tuple[str, ...]:
    given = (value,) if isinstance(value, str) else value
    if not isinstance(given, (list, tuple)) or not (
        tuple(given) == ("all",) or all(side in SIDE_NAMES for side in given)
    ):
        allowed = f'"all", or a list of {one_of(map(shown, SIDE_NAMES))}'
        raise WrongValueError(f"{shown(value)} does not name sides of a panel", allowed)
    return tuple(dict.fromkeys(given))


def _step(value: object) -> Fraction:
    step = angle(value)
    if step is None or not 1 <= step <= 90:
        allowed = 'an angle from 1 to 90 degrees, as in "10 deg"'
        raise WrongValueError(f"{shown(value)} is not such an angle", allowed)
    return step


def _border(value: object) -> bool | Length:
    if isinstance(value, (bool, str, Length)):
        return value if isinstance(value, bool) else not_negative(value)
    raise WrongValueError(
        f"{shown(value)} is not a border", 'true, false, or its weight, as in "1 mm"'
    )


Sides = Annotated[tuple[str, ...], BeforeValidator(_sides), at_most(6)]
Border = Annotated[bool | Length, BeforeValidator(_border)]


class Wall(Model):
    """An upright plane in perspective, divided into equal parts by its diagonals.

    `near` and `far` are its two upright edges, `top` and `bottom` the ends of the near one; its
    other edges run to the vanishing point `point` (1 or 2).
    """

    example: ClassVar = {"near": "10 %", "far": "60 %", "top": "20 %", "bottom": "80 %"}

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

    example: ClassVar = {"horizon": "40 %", "points": ["-20 %", "130 %"]}

    horizon: AnyPosition
    points: tuple[AnyPosition, ...]
    third: tuple[AnyPosition, AnyPosition] | None = None
    rays: Annotated[Fraction, BeforeValidator(_step)] = Fraction(10)
    wall: Wall | None = None

    @model_validator(mode="after")
    def _points_are_there(self) -> Self:
        if not 1 <= len(self.points) <= 2:
            came = f"{len(self.points)} vanishing points are on the horizon"
            raise WrongValueError(came, "one or two of them", key=("points",))
        if self.wall and self.wall.point > len(self.points):
            came = "there is only one vanishing point on the horizon"
            raise WrongValueError(came, "1", key=("wall", "point"))
        return self


class BreakOut(Model):
    """How far a panel breaks out on each side, as seen on the page."""

    example: ClassVar = {"left": "2 mm"}

    top: NonNegativeLength | None = None
    bottom: NonNegativeLength | None = None
    left: NonNegativeLength | None = None
    right: NonNegativeLength | None = None


class PanelModel(OwnShape):
    """What is special about one panel; of what is None, the page says what holds.

    What has a higher `level` lies above others. `figures` break out of the panel.
    """

    example: ClassVar = {"bleed": "all"}

    bleed: Sides | None = None
    border: Border | None = None
    break_out: BreakOut = BreakOut.model_construct()
    level: Level = 0
    figures: Annotated[tuple[Figure, ...], at_most(100)] = ()
    perspective: Perspective | None = None


PLAIN_PANEL = PanelModel.model_construct()


def _names(value: object) -> tuple[str, ...]:
    names = value if isinstance(value, (list, tuple)) else (value,)
    if not names or not all(isinstance(n, (int, str)) and not isinstance(n, bool) for n in names):
        allowed = "the number or letter of a panel, or a list of them"
        raise WrongValueError(f"{shown(value)} does not name panels", allowed)
    return tuple(str(name) for name in names)


def _name(value: object) -> str:
    if not isinstance(value, (int, str)) or isinstance(value, bool):
        raise WrongValueError(f"{shown(value)} does not name a panel", "its number or letter")
    return str(value)


PanelName = Annotated[str, BeforeValidator(_name)]


class Inset(OwnShape):
    """A panel laid over others, in a corner of them or `at` a place from their upper left.

    In place of panels that it lies `over`, it may be measured `within` an area of the page.
    `gutter` is the clear margin round it, and in a corner also its distance from the edges. What
    has a higher `level` lies above others. It is read after the last panel it lies over, or where
    `read_after` and `read_before` say.
    """

    example: ClassVar = {"over": 1, "width": "30 %", "height": "30 %", "corner": "top-left"}

    over: Annotated[tuple[str, ...], BeforeValidator(_names), at_most(1_000)] = ()
    within: Literal["frame", "trim", "bleed"] | None = None
    width: AnySize | None = None
    height: AnySize | None = None
    corner: Corner | None = None
    at: tuple[AnyPosition, AnyPosition] | None = None
    gutter: NonNegativeLength | None = None
    border: Border | None = None
    level: Level = 0
    read_after: PanelName | None = None
    read_before: PanelName | None = None

    @model_validator(mode="after")
    def _one_place(self) -> Self:
        if bool(self.over) == bool(self.within):
            both = "both over and within are" if self.over else "neither over nor within is"
            allowed = 'over, which names panels, or within, which is "frame", "trim" or "bleed"'
            raise WrongValueError(f"{both} here", allowed)
        if self.corner and self.at:
            corners = one_of(map(shown, CORNERS))
            raise WrongValueError(
                "both corner and at are here",
                f"corner, which is {corners}, or at, a list of two places",
            )
        if not self.corner and not self.at and (self.width or self.height):
            corners = one_of(map(shown, CORNERS))
            raise WrongValueError(
                "neither corner nor at is here",
                f"corner, which is {corners}, or at, a list of two places",
            )
        if self.corner and not (self.width and self.height):
            came = "an inset in a corner has both width and height"
            raise WrongValueError(came, todo="Write both.", key=("corner",))
        if not self.at and not self.corner and not self.is_own:
            came = "neither a place nor a shape of its own is here"
            allowed = "width and height with corner or at, or a shape: points, ellipse and so on"
            raise WrongValueError(came, allowed)
        if self.read_after and self.read_before:
            came = "read_after and read_before are both here"
            raise WrongValueError(came, "one of them", key=("read_before",))
        return self
