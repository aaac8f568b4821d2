"""Channel data of layers and of the merged image, as PackBits rows (compression 1).

Several readers refuse the ZIP compressions of the specification, so they are never written.
"""

from __future__ import annotations

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from psd_tools.constants import Compression
from psd_tools.psd.layer_and_mask import ChannelData

from guidekit.raster import Box
from guidekit.raster.bands import Bands
from guidekit.raster.blend import Colour
from guidekit.raster.shapes import Shape, cover
from guidekit.writers.psd.packbits import packed_flat, packed_planes, wide_counts

NO_DATA = ChannelData(Compression.RAW, b"")  # two bytes in the file: a layer with nothing on it


def luminance(
    red: NDArray[np.int64], green: NDArray[np.int64], blue: NDArray[np.int64]
) -> NDArray[np.int64]:
    """The grey of a colour, weighted as in ITU-R BT.709, rounded half up."""
    return (2126 * red + 7152 * green + 722 * blue + 5000) // 10000


def channel_values(colour: Colour, grey: bool) -> tuple[int, ...]:
    """A colour in the channels of the file: red, green and blue, or grey."""
    if not grey:
        return colour
    return (int(luminance(*(np.array(part) for part in colour))),)


@lru_cache(maxsize=24)
def layer_alpha(shapes: tuple[Shape, ...], canvas: Box, psb: bool) -> ChannelData:
    """The transparency channel of a layer; pages that share a guide share its bytes."""
    bands = cover(shapes, canvas)
    return _channel(*packed_planes(bands, [bands.values])[0], psb)


@lru_cache(maxsize=48)
def flat_channel(value: int, width: int, height: int, psb: bool) -> ChannelData:
    """A channel of one value all over."""
    return _channel(*packed_flat(value, width, height), psb)


def merged_channels(picture: Bands, grey: bool, psb: bool) -> bytes:
    """The merged image: all row lengths, then all rows, channel after channel."""
    red, green, blue = (picture.values.astype(np.int64) >> shift & 255 for shift in (16, 8, 0))
    planes = [luminance(red, green, blue)] if grey else [red, green, blue]
    packed = packed_planes(picture, [plane.astype(np.uint8) for plane in planes])
    counts = b"".join(wide_counts(c) if psb else c for c, _ in packed)
    return b"".join([counts, *(rows for _, rows in packed)])


def _channel(counts: bytes, rows: bytes, psb: bool) -> ChannelData:
    return ChannelData(Compression.RLE, (wide_counts(counts) if psb else counts) + rows)
