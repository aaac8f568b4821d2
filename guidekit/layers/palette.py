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

WHITE: Colour = (255, 255, 255)


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


def ink_on(paper: Colour) -> Colour:
    """Black or white, whichever stands out from the paper; at least 4.58 : 1 on any."""
    return max(BLACK, WHITE, key=lambda ink: contrast(ink, paper))


def contrast(one: Colour, other: Colour) -> float:
    """The contrast ratio of two colours, 1 to 21 (W3C, WCAG 2.2, section 6)."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def luminance(colour: Colour) -> float:
    """The relative luminance of an sRGB colour, 0 to 1 (W3C, WCAG 2.2, section 6)."""
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4
        for part in (value / 255 for value in colour)
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def seen_on(paper: Colour, colour: Colour, opacity: int) -> Colour:
    """How a colour looks on paper at an opacity of 0 to 255."""
    red, green, blue = (
        half_up(Fraction(over * opacity + below * (255 - opacity), 255))
        for over, below in zip(colour, paper, strict=True)
    )
    return red, green, blue
