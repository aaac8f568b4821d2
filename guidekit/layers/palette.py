"""The colours and line patterns of guides, and line weights that suit the size of the page.

Colours: M. Okabe and K. Ito, "Color Universal Design" (2008), eight colours chosen so that people
with any common form of colour blindness can tell them apart. The line patterns differ as well.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING

from guidekit.units import half_up

if TYPE_CHECKING:
    from guidekit.geometry.page import PagePlan
    from guidekit.raster.blend import Colour

BLACK: Colour = (0, 0, 0)
ORANGE: Colour = (230, 159, 0)
SKY_BLUE: Colour = (86, 180, 233)
BLUISH_GREEN: Colour = (0, 158, 115)
YELLOW: Colour = (240, 228, 66)
BLUE: Colour = (0, 114, 178)
VERMILLION: Colour = (213, 94, 0)
REDDISH_PURPLE: Colour = (204, 121, 167)


@dataclass(frozen=True)
class Pen:
    """Line weight and the sizes that go with it, in pixels, for a page `short` pixels wide.

    The weight is even, so that a line lies centred on the edge it marks, and a left page's lines
    are the mirror image of a right page's.
    """

    short: int

    @property
    def weight(self) -> int:
        """Two pixels for every 2000 of the page's shorter edge, at least two."""
        return max(2, 2 * half_up(Fraction(self.short, 2000)))

    @property
    def capitals(self) -> int:
        """Height of capitals in labels."""
        return max(7, self.short // 60)

    def dash(self, *pattern: int) -> tuple[int, ...]:
        """A pattern of strokes and gaps given in line weights."""
        return tuple(part * self.weight for part in pattern)


def pen_for(page: PagePlan) -> Pen:
    """The pen for a page; for a spread that of one of its pages."""
    trim = page.boxes.pages[0].trim
    return Pen(min(trim.width, trim.height))


def from_hex(colour: str) -> Colour:
    """``#ffcc00`` → (255, 204, 0)."""
    return (int(colour[1:3], 16), int(colour[3:5], 16), int(colour[5:7], 16))
