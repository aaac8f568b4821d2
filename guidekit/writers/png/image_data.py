"""The image data of a PNG: rows are made a few at a time, repeated rows cost a few bytes.

A row that equals the one above is a 2 (filter type Up) and zeros; many of them are one ready-made
piece of deflate data.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from guidekit.memory import remembered
from guidekit.raster.bands import Bands
from guidekit.writers.pixels.deflate import Packed, Packer, ZlibStream
from guidekit.writers.pixels.rows import packed_rows

SUB, UP = 1, 2  # filter types, section 9.2
CHUNK_ROWS = 64
FEW_SAME = 16  # from here on a piece is shorter than what the compressor makes of the rows
MANY_SAME = 64
Rows = NDArray[np.uint8]


def indexed_data(picture: Bands, colours: NDArray[np.uint32], depth: int) -> bytes:
    """Every pixel as the number of its colour, in `depth` bits; rows filtered Up."""
    stream = ZlibStream()
    heights = picture.heights.tolist()
    above: Rows | None = None
    for begin in range(0, len(heights), CHUNK_ROWS):
        rows = _numbers(picture, begin, min(begin + CHUNK_ROWS, len(heights)), colours, depth)
        if above is None:
            above = np.zeros_like(rows[:1])
        filtered = np.full((len(rows), rows.shape[1] + 1), UP, np.uint8)
        np.subtract(rows, np.concatenate([above, rows[:-1]]), out=filtered[:, 1:])
        above = rows[-1:]
        for row, height in zip(filtered, heights[begin : begin + CHUNK_ROWS], strict=False):
            stream.add(row.tobytes())
            if height <= FEW_SAME:
                stream.add(_same(height - 1, len(row)))
            else:
                _add_same(stream, height - 1, len(row))
    return stream.finish()


def sampled_data(picture: Bands, samples: Rows, width: int) -> bytes:
    """Every pixel by its samples; the first row of a band filtered Sub.

    `samples` has a row for each run and a column for each channel; each is stored `width` bytes
    wide, all equal. Filters work on bytes (section 9.1), not on samples.
    """
    rows = packed_rows(picture, np.repeat(samples, width, axis=1), lead=(SUB,))
    stream = ZlibStream()
    for row, height in zip(rows, picture.heights.tolist(), strict=True):
        stream.add_repeated(row, 1)
        _add_same(stream, height - 1, row.length)
    return stream.finish()


def _numbers(picture: Bands, begin: int, end: int, colours: NDArray[np.uint32], depth: int) -> Rows:
    """One row for each band from `begin` to `end`, as the bytes of its pixels."""
    cut = slice(picture.first[begin], picture.first[end])
    numbers = np.searchsorted(colours, picture.values[cut]).astype(np.uint8)
    rows = np.repeat(numbers, picture.lengths[cut]).reshape(end - begin, -1)
    if depth == 8:
        return rows
    each = 8 // depth  # pixels in a byte, the first in its highest bits
    rows = np.pad(rows, ((0, 0), (0, -rows.shape[1] % each)))
    joined = np.zeros((len(rows), rows.shape[1] // each), np.uint8)
    for place in range(each):
        joined |= rows[:, place::each] << (8 - depth * (place + 1))
    return joined


def _add_same(stream: ZlibStream, rows: int, length: int) -> None:
    """Rows of `length` bytes, filter byte included, each equal to the one above."""
    many, few = divmod(rows, MANY_SAME)
    for count, times in ((MANY_SAME, many), (few, 1)):
        if count and times:
            stream.add_repeated(_same_packed(count, length), times)


def _same(rows: int, length: int) -> bytes:
    return (bytes([UP]) + bytes(length - 1)) * rows


@remembered
def _same_packed(rows: int, length: int) -> Packed:
    return Packer().pack(_same(rows, length))
