"""Channel data of layers and of the merged image, as PackBits rows (compression 1).

Several readers refuse the ZIP compressions of the specification, so they are never written.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from psd_tools.constants import Compression
from psd_tools.psd.layer_and_mask import ChannelData

from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.raster.bands import Bands
from guidekit.raster.shapes import Shape, cover
from guidekit.writers.psd.packbits import packed_flat, packed_planes, wide_counts

NO_DATA = ChannelData(Compression.RAW, b"")  # two bytes in the file: a layer with nothing on it


class Encoding(NamedTuple):
    """How numbers are stored: PSB or PSD, and the bytes of a pixel in one channel (1 or 2).

    A 16-bit value is the 8-bit one times 257, so that both its bytes are the same.
    """

    psb: bool
    width: int

    def packed(self, planes: Sequence[tuple[bytes, bytes]]) -> bytes:
        """All row lengths, then all rows, plane after plane."""
        counts = (wide_counts(count) if self.psb else count for count, _ in planes)
        return b"".join([*counts, *(rows for _, rows in planes)])


@remembered
def coverage_channel(shapes: tuple[Shape, ...], canvas: Box, encoding: Encoding) -> ChannelData:
    """The transparency of a layer, or a mask; pages that share a guide share its bytes."""
    bands = cover(shapes, canvas)
    planes = packed_planes(bands, [bands.values], encoding.width)
    return ChannelData(Compression.RLE, encoding.packed(planes))


@remembered
def flat_channel(value: int, width: int, height: int, encoding: Encoding) -> ChannelData:
    """A channel of one value all over."""
    planes = [packed_flat(value, width * encoding.width, height)]
    return ChannelData(Compression.RLE, encoding.packed(planes))


def merged_channels(strips: Sequence[Bands], grey: bool, encoding: Encoding) -> list[bytes]:
    """The merged image, given in strips from the top down, in pieces."""
    packed = [_merged_strip(strip, grey, encoding.width) for strip in strips]
    planes = range(len(packed[0]))
    counts = [strip[plane][0] for plane in planes for strip in packed]
    rows = [strip[plane][1] for plane in planes for strip in packed]
    return [*(wide_counts(count) if encoding.psb else count for count in counts), *rows]


@remembered
def _merged_strip(strip: Bands, grey: bool, width: int) -> list[tuple[bytes, bytes]]:
    planes = [(strip.values >> shift & 255).astype(np.uint8) for shift in (16, 8, 0)]
    return packed_planes(strip, planes[:1] if grey else planes, width)
