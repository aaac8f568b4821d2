"""Layers of ours as `compose` lays them, in a file of any format."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import numpy as np

from guidekit.drawn.composing.compose import Floats, Item, Paint, PaintGroup, RowStrip, of_one
from guidekit.drawn.composing.runs import pixels_of
from guidekit.layers.model import Group, Layer
from guidekit.plane.box import Box
from guidekit.raster.bands import Bands
from guidekit.raster.shapes import cover
from guidekit.writers.pixels.grey import stored_colour


def made_items(member: Layer | Group, canvas: Box, *, grey: bool) -> Iterator[Item]:
    """What is shown of something new; nothing if it is hidden or blank."""
    if not member.visible:
        return
    if isinstance(member, Layer):
        if member.shapes:
            yield paint_of(member, member.opacity, member.blend, canvas, grey=grey)
        return
    inside = (
        item for one in reversed(member.members) for item in made_items(one, canvas, grey=grey)
    )
    mask = coverage_of(cover(member.mask, canvas)) if member.mask else None
    yield PaintGroup(tuple(inside), mask)


def paint_of(layer: Layer, opacity: int, blend: str, canvas: Box, *, grey: bool) -> Paint:
    """A layer of ours, in one colour channel if the file is `grey`; `opacity` is of 255."""
    values = stored_colour(layer.colour, grey)[: 1 if grey else 3]
    flat = np.array(values, np.float32)[:, None, None] / np.float32(255)
    coverage = coverage_of(cover(layer.shapes, canvas))
    return Paint(coverage, lambda strip: flat, blend, opacity / 255)


def coverage_of(bands: Bands) -> Callable[[RowStrip], Floats | None]:
    """The coverage of something of ours on a strip."""

    def coverage(strip: RowStrip) -> Floats | None:
        box = bands.box
        if box.bottom <= strip.top or box.top >= strip.bottom or box.is_empty:
            return None
        whole = Box(0, strip.top, max(box.right, int(strip.columns[-1]) + 1), strip.bottom)
        values = pixels_of(bands, whole)[:, strip.columns]
        return of_one(values) if values.any() else None

    return coverage
