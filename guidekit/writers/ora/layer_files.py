"""The pictures of an OpenRaster file: every layer, the merged image, the thumbnail."""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from guidekit.layers.model import Stack, all_layers
from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.raster.bands import Bands, filled
from guidekit.raster.blend import Colour
from guidekit.raster.shapes import Shape, cover
from guidekit.writers.pixels.grey import stored_colour
from guidekit.writers.pixels.pixel_format import PixelFormat
from guidekit.writers.pixels.thumbnail import thumbnail
from guidekit.writers.png.encode import SIGNATURE, chunk, encode_png, header

LONGEST_THUMBNAIL = 256  # file layout specification, "Thumbnails/thumbnail.png"
RGB = 2  # PNG colour type


class LayerFile(NamedTuple):
    """A layer's PNG; `x` and `y` are its top left corner in canvas pixels."""

    path: str
    x: int
    y: int
    png: bytes


def layer_files(stack: Stack) -> Iterator[LayerFile]:
    """One file a layer, the uppermost first."""
    canvas = stack.canvas
    for number, layer in enumerate(all_layers(stack.members)):
        colour = stored_colour(layer.colour, stack.grey)
        x, y, png = _cropped_png(layer.shapes, canvas, colour, stack.dpi, stack.depth)
        yield LayerFile(f"data/layer{number:03}.png", x, y, png)


def thumbnail_png(picture: Bands) -> bytes:
    """The specification wants 8 bits a channel, no interlacing, as large as possible."""
    small = thumbnail([picture], LONGEST_THUMBNAIL)
    height, width, _ = small.shape
    rows = np.insert(small.reshape(height, -1), 0, 0, axis=1)  # filter type None
    return b"".join(
        [
            SIGNATURE,
            header(width, height, 8, RGB),
            chunk(b"IDAT", zlib.compress(rows.tobytes(), 9)),
            chunk(b"IEND", b""),
        ]
    )


@remembered
def _cropped_png(
    shapes: tuple[Shape, ...], canvas: Box, colour: Colour, dpi: int, depth: int
) -> tuple[int, int, bytes]:
    """A layer's x, y and PNG; canvases that share a layer share its bytes.

    In full colour, tones of grey too, which every reader takes for a layer. The colour is the same
    where nothing is covered: only alpha varies, and scaling brings up no dark fringes.
    """
    coverage = cover(shapes, canvas)
    if coverage.box.is_empty:
        return 0, 0, _png(filled(Box(0, 0, 1, 1), 0), dpi, depth)
    red, green, blue = colour
    packed = coverage.values.astype(np.uint32) << 24 | np.uint32(red << 16 | green << 8 | blue)
    x, y = coverage.box.left - canvas.left, coverage.box.top - canvas.top
    return x, y, _png(coverage.with_values(packed), dpi, depth)


def _png(picture: Bands, dpi: int, depth: int) -> bytes:
    return b"".join(encode_png(picture, PixelFormat(grey=False, alpha=True, depth=depth), dpi))
