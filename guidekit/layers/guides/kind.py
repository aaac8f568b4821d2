"""What a kind of guide is, and what it may know."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import ceil, floor

from guidekit.geometry.page import PagePlan
from guidekit.layers.palette import Pen
from guidekit.plane.box import Box
from guidekit.raster.blend import Colour
from guidekit.raster.font import FontFile
from guidekit.raster.shapes import Dash, Rule, Shape


@dataclass(frozen=True)
class GuideInput:
    """What a guide may know: the page, and a pen that suits its size."""

    page: PagePlan
    pen: Pen

    @property
    def right_to_left(self) -> bool:
        """True if reading begins on the right."""
        return self.page.book.furniture.right_to_left

    @property
    def font(self) -> FontFile | None:
        """What words are set in; None for the fonts that come with guidekit."""
        return self.page.book.furniture.font


@dataclass(frozen=True)
class Kind:
    """One kind of guide: its layer's name, colour and opacity, and what draws its shapes."""

    layer: str
    colour: Colour
    draw: Callable[[GuideInput], Iterable[Shape]]
    opacity: int = 255


def upright(x: float, top: int, bottom: int, weight: int, dash: Dash = ()) -> Rule:
    """An upright line centred on `x`; a pixel heavier where `x` lies within a pixel."""
    return Rule(Box(floor(x - weight / 2), top, ceil(x + weight / 2), bottom), dash)


def level(y: float, left: int, right: int, weight: int, dash: Dash = ()) -> Rule:
    """A level line centred on `y`."""
    return Rule(Box(left, floor(y - weight / 2), right, ceil(y + weight / 2)), dash)
