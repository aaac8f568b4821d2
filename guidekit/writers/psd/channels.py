"""Channel data of layers and of the merged image, as PackBits rows (compression 1).

Several readers refuse the ZIP compressions of the specification, so they are never written.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
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


@dataclass(frozen=True)
class Store:
    """How numbers are stored: PSB or PSD, and the bytes of a pixel in one channel (1 or 2).

    A 16-bit value is the 8-bit one times 257, so that both its bytes are the same.
    """

    psb: bool
    width: int

    def packed(self, planes: Sequence[tuple[bytes, bytes]]) -> bytes:
        """All row lengths, then all rows, plane after plane."""
        counts = (wide_counts(count) if self.psb else count for count, _ in planes)
        return b"".join([*counts, *(rows for _, rows in planes)])


@lru_cache(maxsize=20)
def coverage_channel(shapes: tuple[Shape, ...], canvas: Box, store: Store) -> ChannelData:
    """The transparency of a layer, or a mask; pages that share a guide share its bytes."""
    bands = cover(shapes, canvas)
    planes = packed_planes(bands, [bands.values], store.width)
    return ChannelData(Compression.RLE, store.packed(planes))


@lru_cache(maxsize=32)
def flat_channel(value: int, width: int, height: int, store: Store) -> ChannelData:
    """A channel of one value all over."""
    planes = [packed_flat(value, width * store.width, height)]
    return ChannelData(Compression.RLE, store.packed(planes))


def merged_channels(strips: Sequence[Bands], grey: bool, store: Store) -> list[bytes]:
    """The merged image, given in strips from the top down, in pieces."""
    packed = [_merged_strip(strip, grey, store.width) for strip in strips]
    planes = range(len(packed[0]))
    counts = [strip[plane][0] for plane in planes for strip in packed]
    rows = [strip[plane][1] for plane in planes for strip in packed]
    return [*(wide_counts(count) if store.psb else count for count in counts), *rows]


@lru_cache(maxsize=28)
def _merged_strip(strip: Bands, grey: bool, width: int) -> list[tuple[bytes, bytes]]:
    red, green, blue = (strip.values.astype(np.int64) >> shift & 255 for shift in (16, 8, 0))
    planes = [luminance(red, green, blue)] if grey else [red, green, blue]
    return packed_planes(strip, [plane.astype(np.uint8) for plane in planes], width)
