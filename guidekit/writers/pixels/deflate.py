"""zlib streams (RFC 1950) put together from parts, so that equal rows are compressed once.

A piece of deflate data (RFC 1951) that a full flush closes ends on a whole byte and refers to
nothing before it: pieces can stand in any order and any number of times. The check value of what
they expand to follows by formula, without a look at the bytes.
"""

from __future__ import annotations

import struct
import zlib
from typing import NamedTuple

HEADER = b"\x78\x01"  # RFC 1950, section 2.2: deflate with a window of 32 KiB, no dictionary
LAST_BLOCK = b"\x03\x00"  # RFC 1951, section 3.2.3: final, fixed codes, and at once its end
MOD_ADLER = 65521  # RFC 1950, section 8.2: the largest prime below 65536


class Packed(NamedTuple):
    """A piece of deflate data; `length` in bytes and `adler` of what it expands to."""

    deflated: bytes
    length: int
    adler: int


class Packer:
    """Makes pieces with one compressor, for a new one each time would take longer than the work."""

    def __init__(self) -> None:
        self._deflate = compressor()

    def pack(self, data: bytes) -> Packed:
        """`data` as a piece."""
        deflated = self._deflate.compress(data) + self._deflate.flush(zlib.Z_FULL_FLUSH)
        return Packed(deflated, len(data), zlib.adler32(data))


class ZlibStream:
    """A stream from its start to its end: `add` and `add_repeated` in any order, then `finish`."""

    def __init__(self) -> None:
        self._parts = [HEADER]
        self._adler = 1
        self._deflate: zlib._Compress | None = None
        self._open = False  # True while the last block is not closed

    def add(self, data: bytes) -> None:
        """Compress `data` after all that came before."""
        if self._deflate is None:
            self._deflate = compressor()
        self._parts.append(self._deflate.compress(data))
        self._adler = zlib.adler32(data, self._adler)
        self._open = True

    def add_repeated(self, row: Packed, times: int) -> None:
        """A row that is compressed already, so many times."""
        if self._open and self._deflate is not None:
            self._parts.append(self._deflate.flush(zlib.Z_FULL_FLUSH))
            self._open = False
        self._parts.append(row.deflated * times)
        self._adler = adler_repeated(self._adler, row, times)

    def finish(self) -> bytes:
        """The whole stream."""
        end = self._deflate.flush() if self._deflate else LAST_BLOCK
        return b"".join([*self._parts, end, struct.pack(">I", self._adler)])


def adler_repeated(adler: int, piece: Packed, times: int) -> int:
    """The Adler-32 of what `adler` stands for, followed by the bytes of `piece` so many times.

    RFC 1950, section 8.2: the low half is one more than the sum of the bytes, the high half the sum
    of all low halves on the way. So a piece adds its own sums, and to the high half for each of its
    bytes also the low one that it found, less the 1 with which its own begins.
    """
    low, high = adler & 0xFFFF, adler >> 16
    rise = (piece.adler & 0xFFFF) - 1
    found = times * (low - 1) + times * (times - 1) // 2 * rise  # by all copies in a row
    high += times * (piece.adler >> 16) + piece.length * found
    return high % MOD_ADLER << 16 | (low + times * rise) % MOD_ADLER


def compressor() -> zlib._Compress:
    """Raw deflate that looks for runs only: runs are all there is, and it takes half the time."""
    return zlib.compressobj(6, zlib.DEFLATED, -zlib.MAX_WBITS, 8, zlib.Z_RLE)
