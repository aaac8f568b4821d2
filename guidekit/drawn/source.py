"""A file read by places: whatever lengths it states, nothing is read beyond its end."""

from __future__ import annotations

import os
from typing import BinaryIO, NamedTuple

from guidekit.drawn.unfit import broken


class ByteSpan(NamedTuple):
    """Bytes of a file: where they begin, and how many they are."""

    at: int
    size: int

    @property
    def end(self) -> int:
        """The place behind the last one."""
        return self.at + self.size


Piece = bytes | ByteSpan  # of a file that is made: new bytes, or a part of the old one


class Source:
    """An open file; raises `UnfitError` where there is less than it says."""

    def __init__(self, file: BinaryIO):
        self.file = file
        self.size = os.fstat(file.fileno()).st_size

    def read(self, span: ByteSpan) -> bytes:
        """The bytes of a span."""
        if span.size < 0 or span.end > self.size:
            raise broken("it is cut off, or a length in it leads beyond its end")
        self.file.seek(span.at)
        data = self.file.read(span.size)
        if len(data) < span.size:  # it has become shorter while it is read
            raise broken("it is cut off")
        return data


class Cursor:
    """A place in a part of a file that moves on with what is read."""

    def __init__(self, source: Source, part: ByteSpan):
        if part.size < 0 or part.end > source.size:
            raise broken("it is cut off, or a length in it leads beyond its end")
        self.source, self.part, self.at = source, part, part.at

    @property
    def left(self) -> int:
        """How many bytes of the part are still to be read."""
        return self.part.end - self.at

    def take(self, size: int) -> bytes:
        """The next bytes."""
        return self.source.read(self.skip(size))

    def skip(self, size: int) -> ByteSpan:
        """The place of the next bytes, which are not read."""
        if not 0 <= size <= self.left:
            raise broken("a length in it leads beyond the part that it stands in")
        span = ByteSpan(self.at, size)
        self.at += size
        return span

    def number(self, size: int, signed: bool = False) -> int:
        """A number of so many bytes."""
        return int.from_bytes(self.take(size), "big", signed=signed)

    def inside(self, size: int) -> Cursor:
        """A length of `size` bytes, and the part behind it."""
        return Cursor(self.source, self.skip(self.number(size)))
