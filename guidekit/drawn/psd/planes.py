"""Channels decoded a few rows at a time: a whole plane is never in memory."""

from __future__ import annotations

import zlib
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from guidekit.drawn.composing.runs import ROWS, DistinctRows
from guidekit.drawn.psd.packed_rows import unpacked
from guidekit.drawn.psd.sections import RAW, RLE, ZIP, ZIP_WITH_PREDICTION
from guidekit.drawn.spans.source import ByteSpan, Source
from guidekit.drawn.unfit import broken

BLOCK = 1 << 20  # bytes of a compressed stream read at a time

Rows = NDArray[Any]  # uint8, or uint16 for 16 bits a channel


class Plane:
    """One channel. `rows` gives a part of it; what is packed by ZIP only from the top down.

    Raises `UnfitError` for data that are not what they say.
    """

    def __init__(
        self, source: Source, data: ByteSpan, width: int, height: int, depth: int, psb: bool
    ):
        self.width, self.height, self.bytes = width, height, depth // 8
        self._source = source
        self.kind = int.from_bytes(source.read(ByteSpan(data.at, 2)), "big")
        self._data = ByteSpan(data.at + 2, data.size - 2)
        if self.kind == RLE:
            wide = 4 if psb else 2
            table = source.read(ByteSpan(self._data.at, wide * height))
            counts = np.frombuffer(table, f">u{wide}").astype(np.int64)
            self._ends = np.cumsum(np.concatenate([[self._data.at + wide * height], counts]))
            if self._ends[-1] > self._data.end:
                raise broken("the rows of a layer are longer than its data")
        elif self.kind in (ZIP, ZIP_WITH_PREDICTION):
            self._next, self._read = 0, self._data.at
            self._stream = zlib.decompressobj()
        elif self.kind != RAW:
            raise broken("a layer is packed in a way that no specification knows")

    def rows(self, top: int, bottom: int) -> Rows:
        """The rows from `top` to `bottom`, (bottom − top, width)."""
        size = (bottom - top) * self._line
        if self.kind == RAW:
            data = self._source.read(ByteSpan(self._data.at + top * self._line, size))
        elif self.kind == RLE:
            data = unpacked(self.packed(top, bottom), self._line)
        else:
            if top < self._next:
                raise ValueError("rows of a stream are read in their order")
            while self._next < top:  # what nobody asks for is read over
                self._inflated(self._line)
                self._next += 1
            data, self._next = self._inflated(size), bottom
        return self._read_as(data)

    def distinct(self) -> Iterator[DistinctRows]:
        """All rows from the top down, a few at a time; those that are packed alike only once."""
        for top in range(0, self.height, ROWS):
            bottom = min(top + ROWS, self.height)
            if self.kind != RLE:
                yield DistinctRows.of(self.rows(top, bottom))
                continue
            rows = self.packed(top, bottom)
            firsts = [n for n, row in enumerate(rows) if not n or row != rows[n - 1]]
            once = unpacked((rows[n] for n in firsts), self._line)
            yield DistinctRows(self._read_as(once), np.diff([*firsts, bottom - top]))

    @property
    def _line(self) -> int:
        """Bytes of a row."""
        return self.width * self.bytes

    def _read_as(self, data: bytes) -> Rows:
        rows = np.frombuffer(data, np.uint8 if self.bytes == 1 else ">u2")
        rows = rows.reshape(-1, self.width)
        if self.kind == ZIP_WITH_PREDICTION:
            return np.cumsum(rows, axis=1, dtype=rows.dtype.newbyteorder("="))
        return rows if self.bytes == 1 else rows.astype(np.uint16)

    @property
    def flat(self) -> int | None:
        """The one value of all pixels, where every row is packed alike; else None."""
        if self.kind != RLE or not self.height:
            return None
        if (np.diff(self._ends) != self._ends[1] - self._ends[0]).any():
            return None
        packed = self._source.read(
            ByteSpan(int(self._ends[0]), int(self._ends[-1] - self._ends[0]))
        )
        if packed != packed[: len(packed) // self.height] * self.height:
            return None
        row = self.rows(0, 1)
        return int(row[0, 0]) if (row == row[0, 0]).all() else None

    def packed(self, top: int, bottom: int) -> list[bytes]:
        """Rows as they are stored, of a plane that is packed by RLE."""
        ends = self._ends[top : bottom + 1].tolist()
        data = self._source.read(ByteSpan(ends[0], ends[-1] - ends[0]))
        return [data[begin - ends[0] : end - ends[0]] for begin, end in pairwise(ends)]

    def _inflated(self, size: int) -> bytes:
        found = b""
        try:
            while len(found) < size:
                data = self._stream.unconsumed_tail
                if not data:
                    left = min(BLOCK, self._data.end - self._read)
                    data = self._source.read(ByteSpan(self._read, left))
                    self._read += left
                piece = self._stream.decompress(data, size - len(found))
                if not piece and not self._stream.unconsumed_tail and self._read >= self._data.end:
                    raise broken("the rows of a layer end too soon")
                found += piece
        except zlib.error:
            raise broken("a layer cannot be unpacked") from None
        return found
