"""What holds for the panels of one canvas, in whole pixels."""

from __future__ import annotations

from dataclasses import dataclass

from guidekit.plane.box import Box
from guidekit.units import Length, half_up


@dataclass(frozen=True)
class Setting:
    """Where panels that run out end, the weight of borders, the radius of corners.

    `gap` is the margin round an inset that names none; `flip` says that what lies across is laid
    out from the right.
    """

    bleed: Box
    flip: bool
    dpi: int
    border: int
    radius: int
    gap: int

    def px(self, length: Length) -> int:
        """A length in whole pixels."""
        return half_up(length.px(self.dpi))

    def border_of(self, border: bool | Length) -> int:
        """The weight of a border that is switched on or off, or given as a length."""
        if isinstance(border, Length):
            return max(1, self.px(border)) if border.value else 0
        return self.border if border else 0

    def radius_of(self, radius: Length | None) -> int:
        """The radius of a panel's corners, by default that of all."""
        return self.radius if radius is None else self.px(radius)
