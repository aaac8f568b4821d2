"""Ellipses as polygons, and the lines that run beside them."""

from __future__ import annotations

from dataclasses import dataclass, replace
from math import ceil, cos, hypot, pi, sin, sqrt

from guidekit.plane.polygon import Point, Points, turned

FAR = 0.006  # px: how far a chord may leave the curve, 1.5 of 255 of what a pixel shows
MOST = 500  # chords of a quarter


@dataclass(frozen=True)
class Ellipse:
    """An ellipse by its middle, half its width and height, and its tilt as the clock runs."""

    middle: Point
    across: float
    down: float
    degrees: float = 0.0

    def tilted(self, degrees: float) -> Ellipse:
        """Turned about its middle, as the clock runs."""
        return replace(self, degrees=self.degrees + degrees)

    def beside(self, outward: float) -> Points:
        """All places that are as far outside it, inside if negative, by chords as the clock runs.

        Far inside, the line crosses itself in loops that run the other way. A quarter is worked
        out and mirrored, so that the whole equals its mirror image.
        """
        a, b = self.across, self.down
        wide = max(a, b) * (1 + max(outward, 0) * max(a, b) / min(a, b) ** 2)
        count = min(max(ceil(pi / 2 / sqrt(8 * FAR / max(wide, 1))), 2), MOST)
        quarter = [self._beside(pi / 2 * k / count, outward) for k in range(count)]
        quarter[0] = (a + outward, 0.0)
        half = [*quarter, (0.0, b + outward), *((-x, y) for x, y in quarter[:0:-1])]
        whole = [*half, *((-x, -y) for x, y in half)]
        x, y = self.middle
        placed = tuple((x + dx, y + dy) for dx, dy in whole)
        return turned(placed, self.middle, self.degrees)

    def _beside(self, t: float, outward: float) -> Point:
        """A place beside the point that stands at an angle on the circle it is made from."""
        a, b = self.across, self.down
        far = outward / hypot(b * cos(t), a * sin(t))
        return (a + far * b) * cos(t), (b + far * a) * sin(t)
