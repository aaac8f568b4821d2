"""The layers of an OpenRaster file as `drawn.composing.compose` lays them, from the top down."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from xml.etree import ElementTree as ET

import numpy as np
from numpy.typing import NDArray

from guidekit.drawn.composing.compose import (
    ROWS,
    Floats,
    Item,
    Paint,
    PaintGroup,
    RowStrip,
    UnknownError,
    of_one,
)
from guidekit.drawn.composing.made_layers import made_items, paint_of
from guidekit.drawn.composing.runs import DistinctRows
from guidekit.drawn.ora.drawing import OraDrawing
from guidekit.drawn.ours.layer_tree import Added, CanvasPlace, Kept, LayerNode, LayerPart, Repainted
from guidekit.layers.model import Stack
from guidekit.plane.box import Box
from guidekit.threads import Threads, ahead

Planes = NDArray[np.uint8]

#: Layer stack specification, "composite-op".
BLENDS = {
    "svg:src-over": "normal", "svg:multiply": "multiply", "svg:screen": "screen",
    "svg:overlay": "overlay", "svg:hard-light": "hard light", "svg:darken": "darken",
    "svg:lighten": "lighten", "svg:difference": "difference",
}  # fmt: skip


class OraLayers:
    """The layers of the new file for one strip after the other, of `ROWS` rows and all columns.

    Those of the artist are read in a thread beside.
    """

    def __init__(self, drawing: OraDrawing, stack: Stack, place: CanvasPlace, beside: Threads):
        self.drawing, self.stack, self.place, self.beside = drawing, stack, place, beside

    def after(self, parts: Sequence[LayerPart]) -> tuple[Item, ...]:
        """What is shown of these, the lowest first. Raises `UnknownError`."""
        return tuple(item for part in reversed(parts) for item in self._part(part))

    def _part(self, part: LayerPart) -> Iterator[Item]:
        canvas = self.stack.canvas
        if isinstance(part, Added):
            yield from made_items(part.member, canvas, grey=False)
        elif isinstance(part, Repainted):
            if part.visible:
                blend = _blend(self.drawing.elements[part.node.key])
                yield paint_of(part.layer, part.opacity, blend, canvas, grey=False)
        elif isinstance(part, Kept) and part.node.visible:
            element = self.drawing.elements[part.node.key]
            blend, opacity = _blend(element), part.node.opacity / 255
            if part.members is None:
                layer = _TheirLayer(ahead(self.beside, self._strips(part.node)))
                yield Paint(layer.coverage, layer.colour, blend, opacity)
                return
            isolated = element.get("isolation") != "auto" or opacity < 1 or blend != "normal"
            yield PaintGroup(self.after(part.members), None, blend, opacity, isolated)

    def _strips(self, node: LayerNode) -> Iterator[tuple[int, Planes | None]]:
        """A layer strip by strip, as far as it lies on the canvas, each behind its top."""
        box = node.box.shifted(self.place.x, self.place.y)
        canvas = self.stack.canvas
        top = box.top // ROWS * ROWS
        for rows in self.drawing.rows(node, top + ROWS - box.top, ROWS):
            if 0 <= top < canvas.height:
                strip = Box(0, top, canvas.width, min(top + ROWS, canvas.height))
                yield top, _on(strip, rows, box)
            top += ROWS


class _TheirLayer:
    """A layer of the artist's, from the top down."""

    def __init__(self, strips: Iterator[tuple[int, Planes | None]]):
        self.strips = strips
        self.top = -1  # of the strip that was asked for last
        self.now: Planes | None = None

    def coverage(self, strip: RowStrip) -> Floats | None:
        """Alpha on a strip; None where it covers nothing."""
        while self.top < strip.top:
            self.top, self.now = next(self.strips, (strip.bottom, None))
        return None if self.now is None or self.top != strip.top else of_one(self.now[3])

    def colour(self, strip: RowStrip) -> Floats:
        """Red, green and blue of the same."""
        assert self.now is not None
        return of_one(self.now[:3])


def _on(strip: Box, rows: DistinctRows, box: Box) -> Planes | None:
    """Some rows of a layer on a strip, (4, rows, columns); None where they cover nothing."""
    inside = box.clipped(strip)
    if inside.is_empty or not rows.pixels[..., 3].any():
        return None
    pixels = np.repeat(rows.pixels, rows.heights, axis=0)[: inside.height]
    pixels = pixels[:, inside.left - box.left : inside.right - box.left]
    found = np.zeros((4, strip.height, strip.width), np.uint8)
    top = inside.top - strip.top
    found[:, top : top + len(pixels), inside.left : inside.right] = pixels.transpose(2, 0, 1)
    return found


def _blend(element: ET.Element) -> str:
    name = element.get("composite-op", "svg:src-over")
    if name not in BLENDS:
        raise UnknownError(element.get("name", ""))
    return BLENDS[name]
