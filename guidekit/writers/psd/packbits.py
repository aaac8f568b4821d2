"""PackBits rows made straight from runs: a row is encoded once and repeated for its whole band.

PackBits (TIFF 6.0, section 9): a header byte n from 0 to 127 is followed by n + 1 bytes as they
are, a header byte from 129 to 255 by one byte that stands 257 − n times.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from guidekit.raster.bands import Bands, Ints

Bytes = NDArray[np.uint8]
MANY_RUNS = 250_000  # packed at once: some 20 MB are at work


def packed_planes(
    bands: Bands, planes: Sequence[Bytes], width: int = 1
) -> list[tuple[bytes, bytes]]:
    """Each plane's rows: (length of every row as 2-byte numbers, the rows one after the other).

    A plane has one value for each run of `bands`. `width` is the bytes of a pixel, all equal: 2
    writes 16-bit values of the form v × 257.
    """
    lengths, heights, first = bands.lengths, bands.heights, bands.first
    counts: list[bytes] = []
    rows: list[list[bytes]] = [[] for _ in planes]
    for part in _parts(first):
        runs = slice(int(first[part.start]), int(first[part.stop]))
        heads, packets = _heads(lengths[runs] * width)
        ends = 2 * np.cumsum(packets)[first[1:][part] - runs.start - 1]
        begins = np.append(0, ends[:-1])
        counts.append(np.repeat((ends - begins).astype(">u2"), heights[part]).tobytes())
        cuts = [*zip(begins.tolist(), ends.tolist(), heights[part].tolist(), strict=True)]
        for plane, found in zip(planes, rows, strict=True):
            heads[:, 1] = np.repeat(plane[runs], packets)
            data = heads.tobytes()
            found += [data[a:b] * n for a, b, n in cuts]
    return [(b"".join(counts), b"".join(found)) for found in rows]


def _parts(first: Ints) -> Iterator[slice]:
    """Bands that are packed at once: those of about so many runs, or one that has more."""
    begin, last = 0, len(first) - 1
    while begin < last:
        end = int(np.searchsorted(first, first[begin] + MANY_RUNS))
        end = min(max(end, begin + 1), last)
        yield slice(begin, end)
        begin = end


def _heads(lengths: Ints) -> tuple[Bytes, Ints]:
    """Packets of equal bytes, rows (header, room for the byte), and how many each run takes."""
    full, rest = np.divmod(lengths, 128)
    tail = rest > 0
    packets = full + tail
    heads = np.empty((int(packets.sum()), 2), np.uint8)
    heads[:, 0] = 129  # 128 equal bytes
    last = np.cumsum(packets) - 1
    heads[last[tail], 0] = np.where(rest[tail] == 1, 0, 257 - rest[tail])
    return heads, packets


def packed_flat(value: int, width: int, height: int) -> tuple[bytes, bytes]:
    """The same for a plane of one value all over, `width` bytes wide."""
    full, rest = divmod(width, 128)
    tail = bytes([257 - rest if rest > 1 else 0, value]) if rest else b""
    row = bytes([129, value]) * full + tail
    return len(row).to_bytes(2, "big") * height, row * height


def wide_counts(counts: bytes) -> bytes:
    """2-byte row lengths as the 4-byte ones that a PSB wants."""
    return np.frombuffer(counts, ">u2").astype(">u4").tobytes()
