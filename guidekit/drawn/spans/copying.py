"""Spans of an old file copied into a new one, and the new one compared with it, in little memory.

Of both files each byte is read once: what is compared is hashed at the same time.
"""

from __future__ import annotations

import errno
import os
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Future
from hashlib import sha256
from typing import BinaryIO

from guidekit.drawn.spans.source import ByteSpan, Piece, Source, Spool
from guidekit.drawn.unfit import broken
from guidekit.threads import Threads

BLOCK = 1 << 21  # bytes at a time: three of them stay in the processor's cache
#: What the system answers where it cannot copy between two files by itself.
_BY_HAND = {errno.EXDEV, errno.EINVAL, errno.ENOSYS, errno.EOPNOTSUPP, errno.EPERM, errno.EBADF}

#: Gives pieces one after the other, and raises when nobody wants the file any more.
Wanted = Callable[[Iterable[Piece]], Iterator[Piece]]


def write_pieces(pieces: Iterable[Piece], old: Source, file: BinaryIO) -> None:
    """Write new bytes as they are, and spans from the old file. Raises `OSError`, `UnfitError`."""
    for piece in pieces:
        if isinstance(piece, Spool):
            file.writelines(piece.blocks())
        elif isinstance(piece, bytes):
            file.write(piece)
        elif piece.size:
            _copy(old, piece, file)


def _copy(old: Source, span: ByteSpan, file: BinaryIO) -> None:
    left = span
    if span.size >= BLOCK and hasattr(os, "copy_file_range"):
        file.flush()
        left = _copied_by_the_system(old, span, file)
    while left.size:
        block = ByteSpan(left.at, min(BLOCK, left.size))
        file.write(old.read(block))
        left = ByteSpan(block.end, left.size - block.size)


def _copied_by_the_system(old: Source, span: ByteSpan, file: BinaryIO) -> ByteSpan:
    """What is left of the span that the system has not copied."""
    at, end = span.at, span.end
    try:
        while at < end:
            count = os.copy_file_range(old.file.fileno(), file.fileno(), end - at, at, file.tell())
            if not count:
                break
            at += count
            file.seek(count, os.SEEK_CUR)
    except OSError as error:
        if error.errno not in _BY_HAND:
            raise
    return ByteSpan(at, end - at)


def digest_compared(new: Source, old: Source, pairs: Iterable[tuple[ByteSpan, ByteSpan]]) -> str:
    """The SHA-256 of a new file, of which spans must hold what others of the old file do.

    `pairs` are spans of the new file, none over another, and those of the old one. Raises
    `UnfitError` where they are not alike, `OSError`.
    """
    digest, hashed = sha256(), Future[None]()
    hashed.set_result(None)
    buffers, was = (bytearray(BLOCK), bytearray(BLOCK)), bytearray(BLOCK)
    with Threads(1) as beside:  # hashing takes as long as all the rest
        for number, (block, at) in enumerate(_blocks(pairs, new.size)):
            buffer = buffers[number % 2]  # the other one is being hashed
            new.read_into(buffer, block)
            hashed.result()
            hashed = beside.submit(digest.update, memoryview(buffer)[: block.size])
            if at is not None:
                old.read_into(was, ByteSpan(at, block.size))
                if not _alike(buffer, was, block.size):
                    raise broken("what is drawn would not be in the new file as it was")
        hashed.result()
    return digest.hexdigest()


def _blocks(
    pairs: Iterable[tuple[ByteSpan, ByteSpan]], size: int
) -> Iterator[tuple[ByteSpan, int | None]]:
    """A whole file of this size in blocks, and where each lies in the old one, if it does."""
    end = 0
    for span, other in [*sorted(pairs), (ByteSpan(size, 0), ByteSpan(0, 0))]:
        if span.at < end or span.size != other.size:
            raise broken("what is drawn would not be in the new file as it was")
        for at in range(end, span.at, BLOCK):
            yield ByteSpan(at, min(BLOCK, span.at - at)), None
        for done in range(0, span.size, BLOCK):
            yield ByteSpan(span.at + done, min(BLOCK, span.size - done)), other.at + done
        end = span.end


def _alike(one: bytearray, other: bytearray, size: int) -> bool:
    """True if two buffers begin alike; whole ones are compared without a copy."""
    return one == other if size == BLOCK else one[:size] == other[:size]
