"""What an issue may say of a shape of its own: a panel's, an inset's, a figure's."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, ClassVar, Self

from pydantic import BeforeValidator, Field, model_validator

from guidekit.errors import WrongValueError, shown
from guidekit.issue.models.share import AnyPosition, AnySize
from guidekit.toml.model import (
    Flag,
    Model,
    Name,
    NonNegativeLength,
    WholeNumber,
    at_most,
    not_negative,
)
from guidekit.units import Length, angle

MOST_POINTS = 400
SHAPES = ("points", "ellipse", "cut_corners", "stepped_corners")


def _tilt(value: object) -> Fraction:
    tilt = value if isinstance(value, Fraction) else angle(value)
    if tilt is None or abs(tilt) > 180:
        allowed = 'an angle from "-180 deg" to "180 deg", as in "8 deg"'
        raise WrongValueError(f"{shown(value)} is not a tilt", allowed)
    return tilt


def _some_length(value: object) -> Length:
    length = not_negative(value)
    if not length.value:
        raise WrongValueError(f"{shown(value)} is nothing", "a length above 0")
    return length


def _corners(value: object) -> object:
    if not isinstance(value, (list, tuple)) or len(value) < 3:
        allowed = (
            'at least three points, as in [["0 %", "0 %"], ["90 %", "10 mm"], ["50 %", "1 in"]]'
        )
        raise WrongValueError(f"{shown(value)} is no list of points", allowed)
    for i, point in enumerate(value):
        if not isinstance(point, (list, tuple)) or len(point) != 2:
            allowed = 'a place from the left and one from the top, as in ["30 %", "10 mm"]'
            raise WrongValueError(f"{shown(point)} is no point", allowed, key=(i,))
    return value


SomeLength = Annotated[Length, BeforeValidator(_some_length)]
Level = Annotated[WholeNumber, Field(ge=-99, le=99)]


class OwnShape(Model):
    """The shape within a place: its corners as `points`, an `ellipse`, or what its corners are.

    Points are measured from the upper left of the place. `tilt` turns the whole about the middle
    of the place, as the clock runs; `radius` rounds the corners.
    """

    tilt: Annotated[Fraction, BeforeValidator(_tilt)] = Fraction(0)
    points: (
        Annotated[
            tuple[tuple[AnyPosition, AnyPosition], ...],
            at_most(MOST_POINTS),
            BeforeValidator(_corners),
        ]
        | None
    ) = None
    ellipse: Flag = False
    cut_corners: SomeLength | None = None
    stepped_corners: SomeLength | None = None
    radius: NonNegativeLength | None = None

    @property
    def is_own(self) -> bool:
        """True unless it is the place as it is."""
        return bool(self.tilt or any(getattr(self, name) for name in SHAPES))

    @model_validator(mode="after")
    def _one_shape(self) -> Self:
        given = [name for name in SHAPES if getattr(self, name)]
        if len(given) > 1:
            came = f"{given[0]} and {given[1]} are both here"
            raise WrongValueError(came, "one of them", key=(given[1],))
        if self.ellipse and self.radius is not None:
            came = "an ellipse has no corners to round"
            raise WrongValueError(came, todo="Leave radius out.", key=("radius",))
        return self


class Figure(OwnShape):
    """A figure that breaks out of its panel: a part of it without a border.

    It lies in a box of the panel, or in all of it; `gutter` is a clear margin round it.
    """

    example: ClassVar = {
        "name": "Falling cat",
        "points": [["0 %", "0 %"], ["50 %", "-9 mm"], ["9 %", "50 %"]],
    }

    name: Name
    at: tuple[AnyPosition, AnyPosition] | None = None
    width: AnySize | None = None
    height: AnySize | None = None
    gutter: NonNegativeLength | None = None

    @model_validator(mode="after")
    def _some_shape(self) -> Self:
        if not (self.is_own or self.at or self.width or self.height):
            allowed = "points, ellipse = true, or a box of the panel by at, width and height"
            raise WrongValueError("no shape of this figure is here", allowed)
        return self
