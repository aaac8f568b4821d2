"""A rectangle of whole pixels; never a bare tuple."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Edge = Literal["left", "top", "right", "bottom"]
EDGES: tuple[Edge, ...] = ("left", "top", "right", "bottom")


@dataclass(frozen=True, order=True)
class Box:
    """Left, top, right, bottom in pixels, half-open: `right` and `bottom` are just outside."""

    left: int
    top: int
    right: int
    bottom: int

    @property
    def width(self) -> int:
        """Pixels from left to right."""
        return self.right - self.left

    @property
    def height(self) -> int:
        """Pixels from top to bottom."""
        return self.bottom - self.top

    @property
    def longest(self) -> int:
        """Pixels along the longer edge."""
        return max(self.width, self.height)

    @property
    def size(self) -> tuple[int, int]:
        """Width and height."""
        return self.width, self.height

    @property
    def is_empty(self) -> bool:
        """True if it holds no pixel."""
        return self.right <= self.left or self.bottom <= self.top

    def as_list(self) -> list[int]:
        """``[left, top, right, bottom]``."""
        return [self.left, self.top, self.right, self.bottom]

    def mirrored(self, width: int) -> Box:
        """The same box seen in a mirror: left and right swapped on a canvas `width` wide."""
        return Box(width - self.right, self.top, width - self.left, self.bottom)

    def shifted(self, x: int, y: int) -> Box:
        """Moved right by `x` and down by `y`."""
        return Box(self.left + x, self.top + y, self.right + x, self.bottom + y)

    def inset(self, by: int) -> Box:
        """Each edge moved inward by `by` (outward if negative); empty if nothing is left."""
        box = Box(self.left + by, self.top + by, self.right - by, self.bottom - by)
        return Box(self.left, self.top, self.left, self.top) if box.is_empty else box

    def clipped(self, other: Box) -> Box:
        """What lies in both; an empty box if nothing does."""
        left, top = max(self.left, other.left), max(self.top, other.top)
        right, bottom = min(self.right, other.right), min(self.bottom, other.bottom)
        return Box(left, top, max(left, right), max(top, bottom))

    def holds(self, other: Box) -> bool:
        """True if `other` lies inside, edges included."""
        return (
            self.left <= other.left
            and self.top <= other.top
            and other.right <= self.right
            and other.bottom <= self.bottom
        )


def around(boxes: Iterable[Box]) -> Box:
    """The smallest box that holds all; an empty one for none."""
    boxes = [box for box in boxes if not box.is_empty]
    if not boxes:
        return Box(0, 0, 0, 0)
    return Box(
        min(box.left for box in boxes),
        min(box.top for box in boxes),
        max(box.right for box in boxes),
        max(box.bottom for box in boxes),
    )
