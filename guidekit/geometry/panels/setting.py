"""What holds for the panels of one canvas, in whole pixels."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from guidekit.geometry.book import border_weight
from guidekit.geometry.page_boxes import PageBoxes
from guidekit.plane.box import Box
from guidekit.units import Length, half_up


@dataclass(frozen=True)
class Setting:
    """The boxes of the canvas, the weight of borders, the radius of corners.

    Panels have a `border` of so many pixels, 0 for none; those of which it is said that they have
    one are `ruled`, also where others are not. `gap` is the margin round what lies over others and
    names none.
    """

    boxes: PageBoxes
    dpi: int
    border: int
    ruled: int
    radius: int
    gap: int

    @property
    def bleed(self) -> Box:
        """Where panels that run out end."""
        return self.boxes.bleed

    @property
    def flip(self) -> bool:
        """True if what lies across is laid out from the right."""
        return self.boxes.flip

    def whole_across(self, x: Fraction) -> int:
        """An exact place in whole pixels, half away from the fold."""
        return -half_up(-x) if self.flip else half_up(x)

    def px(self, length: Length) -> int:
        """A length in whole pixels."""
        return half_up(length.px(self.dpi))

    def border_of(self, border: bool | Length | None) -> int:
        """The weight of a border that is switched on or off, given as a length, or as all are."""
        if border is None:
            return self.border
        if isinstance(border, Length):
            return border_weight(border, self.dpi)
        return self.ruled if border else 0

    def radius_of(self, radius: Length | None) -> int:
        """The radius of a panel's corners, by default that of all."""
        return self.radius if radius is None else self.px(radius)
