"""A file read by places: whatever lengths it states, nothing is read beyond its end."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator
from contextlib import suppress
from io import BufferedReader
from tempfile import TemporaryFile
from threading import Lock
from typing import NamedTuple

from guidekit.drawn.unfit import broken


class ByteSpan(NamedTuple):
    """Bytes of a file: where they begin, and how many they are."""

    at: int
    size: int

    @property
    def end(self) -> int:
        """The place behind the last one."""
        return self.at + self.size


class Spool:
    """New bytes that are not held in memory: a file without a name, as large as they are."""

    def __init__(self) -> None:
        self.size = 0
        self._file = TemporaryFile()  # noqa: SIM115 - see `close`

    def add(self, data: bytes) -> None:
        """The next bytes. Raises `OSError`."""
        self._file.write(data)
        self.size += len(data)

    def blocks(self) -> Iterator[bytes]:
        """All that was added, in blocks. Raises `OSError`."""
        self._file.seek(0)
        while block := self._file.read(1 << 20):
            yield block

    def close(self) -> None:
        """Close the file, so that it is no more."""
        with suppress(OSError):  # where the disk is full: what is left to write is not wanted
            self._file.close()


#: Of a file that is made: new bytes, or a part of the old one.
Piece = bytes | ByteSpan | Spool


def size_of(pieces: Iterable[Piece]) -> int:
    """How many bytes these are together."""
    return sum(len(piece) if isinstance(piece, bytes) else piece.size for piece in pieces)


class Source:
    """An open file that several threads read; raises `UnfitError` where there is too little."""

    def __init__(self, file: BufferedReader):
        self.file = file
        self.size = os.fstat(file.fileno()).st_size
        self._in_use = Lock()

    def read(self, span: ByteSpan) -> bytes:
        """The bytes of a span."""
        self._refuse_beyond(span)
        with self._in_use:
            self.file.seek(span.at)
            data = self.file.read(span.size)
        _refuse_shorter(len(data), span)
        return data

    def read_into(self, buffer: bytearray, span: ByteSpan) -> None:
        """Fill the beginning of a buffer with the bytes of a span."""
        self._refuse_beyond(span)
        with self._in_use:
            self.file.seek(span.at)
            count = self.file.readinto(memoryview(buffer)[: span.size])
        _refuse_shorter(count, span)

    def _refuse_beyond(self, span: ByteSpan) -> None:
        if span.size < 0 or span.end > self.size:
            raise broken("it is cut off, or a length in it leads beyond its end")


def _refuse_shorter(count: int, span: ByteSpan) -> None:
    if count < span.size:  # the file has become shorter while it is read
        raise broken("it is cut off")


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
