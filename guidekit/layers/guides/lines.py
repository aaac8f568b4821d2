"""Straight lines that many guides are made of."""

from __future__ import annotations

from dataclasses import replace
from math import ceil, floor

from guidekit.plane.box import Box
from guidekit.raster.shapes import Dash, Rule, Stroke


def upright(x: float, top: int, bottom: int, weight: int, dash: Dash = ()) -> Rule:
    """An upright line centred on `x`; a pixel heavier where `x` lies within a pixel."""
    return Rule(Box(floor(x - weight / 2), top, ceil(x + weight / 2), bottom), dash)


def level(y: float, left: int, right: int, weight: int, dash: Dash = ()) -> Rule:
    """A level line centred on `y`."""
    return Rule(Box(left, floor(y - weight / 2), right, ceil(y + weight / 2)), dash)


def in_mirror(shape: Rule | Stroke, width: int) -> Rule | Stroke:
    """A line as a mirror shows it, on a canvas `width` wide."""
    if isinstance(shape, Rule):
        return Rule(shape.box.mirrored(width), shape.dash)
    (x0, y0), (x1, y1) = shape.start, shape.end
    return replace(shape, start=(width - x0, y0), end=(width - x1, y1))
