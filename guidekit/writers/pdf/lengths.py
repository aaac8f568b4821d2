"""Lengths on paper in points (1/72 in, ISO 32000-1 section 8.3.2.3), exact until they are written.

On a page of PDF x runs to the right and y upward, from the lower left corner.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import NamedTuple

from guidekit.plane.box import Box
from guidekit.units import INCH_IN_MM

INCH = Fraction(72)
MM = INCH / INCH_IN_MM


class Rectangle(NamedTuple):
    """A rectangle as section 7.9.5 has it: left, bottom, right, top."""

    left: Fraction
    bottom: Fraction
    right: Fraction
    top: Fraction

    @property
    def width(self) -> Fraction:
        """From left to right."""
        return self.right - self.left

    @property
    def height(self) -> Fraction:
        """From bottom to top."""
        return self.top - self.bottom

    def inset(self, by: Fraction) -> Rectangle:
        """Each edge moved inward."""
        return Rectangle(self.left + by, self.bottom + by, self.right - by, self.top - by)

    def holds(self, other: Rectangle) -> bool:
        """True if `other` lies inside, edges included."""
        return (
            self.left <= other.left
            and self.bottom <= other.bottom
            and other.right <= self.right
            and other.top <= self.top
        )


@dataclass(frozen=True)
class Placing:
    """Where a canvas lies on a page: where its pixel (0, 0) begins, and points for each pixel."""

    x: Fraction
    y: Fraction
    scale: Fraction

    def across(self, x: Fraction | int) -> Fraction:
        """A pixel's x on the page."""
        return self.x + x * self.scale

    def up(self, y: Fraction | int) -> Fraction:
        """A pixel's y on the page."""
        return self.y - y * self.scale

    def edges(self, box: Box) -> Rectangle:
        """A box of the canvas on the page."""
        return Rectangle(
            self.across(box.left), self.up(box.bottom), self.across(box.right), self.up(box.top)
        )
