"""PNG from bands of runs: rows are made a few at a time, repeated rows cost a few bytes.

A row that equals the one above is a 2 (filter type Up) and zeros. Long runs of such rows are taken
from ready-made pieces of deflate data, each closed by a full flush (RFC 1951, zlib manual) so that
pieces can be put together freely.
"""

from __future__ import annotations

import struct
import zlib
from fractions import Fraction
from functools import lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from guidekit.raster.bands import Bands, distinct
from guidekit.units import INCH_IN_MM, half_up
from guidekit.writers.metadata import as_json

SIGNATURE = b"\x89PNG\r\n\x1a\n"
UP = 2  # filter type, section 9.2
MOD_ADLER = 65521  # RFC 1950
CHUNK_ROWS = 64
Rows = NDArray[np.uint8]


def encode_png(picture: Bands, dpi: int, info: dict[str, Any]) -> list[bytes]:
    """The file in pieces; `picture` holds colours as `blend.flatten` packs them."""
    box = picture.box
    colours = distinct(picture.values)
    depth, colour_type = (8, 6) if len(colours) > 256 else (4 if len(colours) <= 16 else 8, 3)
    return [
        SIGNATURE,
        # section 11.2.1: size, depth, colour type; deflate, adaptive filters, not interlaced
        chunk(b"IHDR", struct.pack(">IIBBBBB", box.width, box.height, depth, colour_type, 0, 0, 0)),
        chunk(b"sRGB", b"\0"),  # section 11.3.2.5, perceptual
        chunk(b"pHYs", struct.pack(">IIB", *[pixels_per_metre(dpi)] * 2, 1)),
        chunk(b"iTXt", b"Description\0\0\0\0\0" + as_json(info).encode()),
        *(palette(colours) if colour_type == 3 else []),
        chunk(b"IDAT", image_data(picture, colours, depth, colour_type == 3)),
        chunk(b"IEND", b""),
    ]


def pixels_per_metre(dpi: int) -> int:
    """Section 11.3.4.3: whole pixels per metre, so that 600 dpi reads back as 599.9988."""
    return half_up(Fraction(dpi) * 1000 / INCH_IN_MM)


def chunk(kind: bytes, data: bytes) -> bytes:
    """Section 5.3: length, type, data, CRC of type and data."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def palette(colours: NDArray[np.uint32]) -> list[bytes]:
    """PLTE and tRNS, sections 11.2.2 and 11.3.1.1."""
    parts = np.stack([colours >> shift & 255 for shift in (16, 8, 0, 24)], axis=1).astype(np.uint8)
    return [chunk(b"PLTE", parts[:, :3].tobytes()), chunk(b"tRNS", parts[:, 3].tobytes())]


def image_data(picture: Bands, colours: NDArray[np.uint32], depth: int, indexed: bool) -> bytes:
    """A zlib stream of all rows, filtered Up."""
    stream = _Stream()
    heights = picture.heights.tolist()
    above: Rows | None = None
    step = CHUNK_ROWS if indexed else CHUNK_ROWS // 4
    for begin in range(0, len(heights), step):
        rows = _rows(picture, begin, min(begin + step, len(heights)), colours, depth, indexed)
        if above is None:
            above = np.zeros_like(rows[:1])
        filtered = np.full((len(rows), rows.shape[1] + 1), UP, np.uint8)
        np.subtract(rows, np.concatenate([above, rows[:-1]]), out=filtered[:, 1:])
        above = rows[-1:]
        for row, height in zip(filtered, heights[begin : begin + step], strict=False):
            stream.add(row.tobytes())
            stream.add_same(height - 1, len(row))
    return stream.finish()


def _rows(
    picture: Bands, begin: int, end: int, colours: NDArray[np.uint32], depth: int, indexed: bool
) -> Rows:
    """One row for each band from `begin` to `end`, as the bytes of its pixels."""
    cut = slice(picture.first[begin], picture.first[end])
    values, lengths = picture.values[cut], picture.lengths[cut]
    if not indexed:
        parts = np.stack([values >> shift & 255 for shift in (16, 8, 0, 24)], axis=1)
        return np.repeat(parts.astype(np.uint8), lengths, axis=0).reshape(end - begin, -1)
    numbers = np.searchsorted(colours, values).astype(np.uint8)
    rows = np.repeat(numbers, lengths).reshape(end - begin, -1)
    if depth == 8:
        return rows
    if rows.shape[1] % 2:
        rows = np.pad(rows, ((0, 0), (0, 1)))
    pairs = rows[:, 0::2] << 4 | rows[:, 1::2]
    return pairs.astype(np.uint8, copy=False)


class _Stream:
    """A zlib stream (RFC 1950) put together from compressed and ready-made parts."""

    def __init__(self) -> None:
        self.parts = [b"\x78\x01"]
        # Z_RLE looks for runs only, and runs are all there is: half the time for the same size
        self.deflate = zlib.compressobj(6, zlib.DEFLATED, -15, 8, zlib.Z_RLE)
        self.adler = 1

    def add(self, data: bytes) -> None:
        self.adler = zlib.adler32(data, self.adler)
        self.parts.append(self.deflate.compress(data))

    def add_same(self, rows: int, length: int) -> None:
        """Rows of `length` bytes, filter byte included, each equal to the one above."""
        if rows < 16:
            return self.add(_same(rows, length)) if rows else None
        self.parts.append(self.deflate.flush(zlib.Z_FULL_FLUSH))
        low, high = self.adler & 0xFFFF, self.adler >> 16
        # each row adds one 2 to the low sum, and that sum to the high one for each of its bytes
        high += length * (rows * low + rows * (rows + 1))
        self.adler = (high % MOD_ADLER) << 16 | (low + 2 * rows) % MOD_ADLER
        for bit in range(rows.bit_length()):
            if rows >> bit & 1:
                self.parts.append(_same_deflated(1 << bit, length))
        return None

    def finish(self) -> bytes:
        return b"".join([*self.parts, self.deflate.flush(), struct.pack(">I", self.adler)])


def _same(rows: int, length: int) -> bytes:
    return (bytes([UP]) + bytes(length - 1)) * rows


@lru_cache(maxsize=64)
def _same_deflated(rows: int, length: int) -> bytes:
    deflate = zlib.compressobj(9, zlib.DEFLATED, -15)
    parts = [deflate.compress(_same(min(rows, 64), length)) for _ in range(max(1, rows // 64))]
    return b"".join([*parts, deflate.flush(zlib.Z_FULL_FLUSH)])
