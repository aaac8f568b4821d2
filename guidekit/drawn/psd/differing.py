"""Where the merged image of a file is not as it was, with other layers of ours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from guidekit.drawn.composing.compose import RowStrip
from guidekit.drawn.composing.runs import pixels_of
from guidekit.drawn.ours.layer_tree import Added, Kept, LayerNode, LayerPart, Repainted, leaves
from guidekit.drawn.psd.drawing import PsdDrawing
from guidekit.drawn.psd.seen_layers import SeenLayers
from guidekit.layers.model import Stack, all_layers
from guidekit.plane.box import Box
from guidekit.raster.bands import EMPTY, Bands
from guidekit.raster.blend import differing, union
from guidekit.raster.shapes import cover


class Differing:
    """Where what is shown of our layers is not as it was, on a canvas of the same size."""

    def __init__(
        self, drawing: PsdDrawing, layers: SeenLayers, stack: Stack, parts: Sequence[LayerPart]
    ):
        self.drawing, self.layers, self.canvas = drawing, layers, stack.canvas
        self.gone = {leaf.key for leaf in leaves(drawing.members) if leaf.visible}
        self.masks: list[tuple[LayerNode, Bands]] = []
        self.bands = union([*self._found(parts)])

    def where(self, strip: RowStrip) -> NDArray[np.bool_]:
        """Where in a strip of all columns anything differs, (rows, columns)."""
        box = Box(0, strip.top, len(strip.columns), strip.bottom)
        found: NDArray[np.bool_] = pixels_of(self.bands, box) != 0
        for key in self.gone:
            alpha = self.layers.alpha(self.drawing.info.records[key], strip)
            if alpha is not None:
                found |= alpha != 0
        for node, now in self.masks:
            shown = self.layers.mask(self.drawing.info.records[node.key], strip)
            was = np.zeros(strip.shape) if shown is None else np.rint(shown * 255)
            found |= was != pixels_of(now, box)
        return found

    def _found(self, parts: Sequence[LayerPart]) -> Iterator[Bands]:
        """Where layers of ours differ; what is gone and what has another mask is noted."""
        for part in parts:
            if isinstance(part, Added):
                layers = all_layers((part.member,))
                yield from (cover(one.shapes, self.canvas) for one in layers if one.visible)
            elif isinstance(part, Repainted):
                self.gone.discard(part.node.key)
                yield from self._repainted(part)
            elif isinstance(part, Kept):
                self.gone.discard(part.node.key)
                yield from self._found(part.members or ())
                if part.mask is not None:
                    self.masks.append((part.node, cover(part.mask, self.canvas)))

    def _repainted(self, part: Repainted) -> Iterator[Bands]:
        node = part.node
        was = self.drawing.coverage(node) if node.visible else EMPTY
        now = cover(part.layer.shapes, self.canvas) if part.visible else EMPTY
        look = (node.visible, node.opacity) == (part.visible, part.opacity)
        if look and self.drawing.has_colour(node, part.layer.colour):
            yield differing(was, now)
        else:
            yield from (was, now)
