"""PackBits rows made straight from runs: a row is encoded once and repeated for its whole band.

PackBits (TIFF 6.0, section 9): a header byte n from 0 to 127 is followed by n + 1 bytes as they
are, a header byte from 129 to 255 by one byte that stands 257 − n times.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from guidekit.raster.bands import Bands

Bytes = NDArray[np.uint8]


def packed_planes(
    bands: Bands, planes: Sequence[Bytes], width: int = 1
) -> list[tuple[bytes, bytes]]:
    """Each plane's rows: (length of every row as 2-byte numbers, the rows one after the other).

    A plane has one value for each run of `bands`. `width` is the bytes of a pixel, all equal: 2
    writes 16-bit values of the form v × 257.
    """
    lengths = bands.lengths * width
    full, rest = np.divmod(lengths, 128)
    packets = full + (rest > 0)
    data = np.empty((int(packets.sum()), 2), np.uint8)
    data[:, 0] = 129  # 128 equal bytes
    last = np.cumsum(packets) - 1
    tail = rest > 0
    data[last[tail], 0] = np.where(rest[tail] == 1, 0, 257 - rest[tail])
    ends = 2 * np.cumsum(packets)[bands.first[1:] - 1]
    begins = np.append(0, ends[:-1])
    heights = bands.heights
    counts = np.repeat((ends - begins).astype(">u2"), heights).tobytes()
    cuts = list(zip(begins.tolist(), ends.tolist(), heights.tolist(), strict=True))
    result = []
    for plane in planes:
        data[:, 1] = np.repeat(plane, packets)
        rows = data.tobytes()
        result.append((counts, b"".join([rows[a:b] * n for a, b, n in cuts])))
    return result


def packed_flat(value: int, width: int, height: int) -> tuple[bytes, bytes]:
    """The same for a plane of one value all over, `width` bytes wide."""
    full, rest = divmod(width, 128)
    tail = bytes([257 - rest if rest > 1 else 0, value]) if rest else b""
    row = bytes([129, value]) * full + tail
    return len(row).to_bytes(2, "big") * height, row * height


def wide_counts(counts: bytes) -> bytes:
    """2-byte row lengths as the 4-byte ones that a PSB wants."""
    return np.frombuffer(counts, ">u2").astype(">u4").tobytes()
