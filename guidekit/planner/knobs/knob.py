"""A point that can be dragged."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from guidekit.plane.polygon import Point

Kind = Literal["bend", "corner", "height", "gap"]


@dataclass(frozen=True)
class Knob:
    """A point on the canvas, of a scroll on all its canvases below each other.

    `of` is the edge that bends, counted from 0, the number of the panel with this corner, or the
    place of a scroll, counted from 1; `nth` counts points and corners from 0. `sizes` are what is
    told of it, in pixels: how far off the line, how far from the left and the top of the trim, how
    high the place or the gap is.
    """

    kind: Kind
    of: int
    at: Point
    sizes: tuple[int, ...]
    nth: int = 0
