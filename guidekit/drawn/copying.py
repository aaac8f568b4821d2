"""Spans of an old file copied into a new one, and two files compared, in little memory."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterable
from typing import BinaryIO

from guidekit.drawn.source import ByteSpan, Source

BLOCK = 1 << 22  # bytes at a time
#: What the system answers where it cannot copy between two files by itself.
_BY_HAND = {errno.EXDEV, errno.EINVAL, errno.ENOSYS, errno.EOPNOTSUPP, errno.EPERM, errno.EBADF}


def write_pieces(pieces: Iterable[bytes | ByteSpan], old: Source, file: BinaryIO) -> None:
    """Write new bytes as they are, and spans from the old file. Raises `OSError`, `UnfitError`."""
    for piece in pieces:
        if not isinstance(piece, ByteSpan):
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


def same_bytes(one: Source, a: ByteSpan, other: Source, b: ByteSpan) -> bool:
    """True if two spans of two files hold the same."""
    if a.size != b.size:
        return False
    for begin in range(0, a.size, BLOCK):
        size = min(BLOCK, a.size - begin)
        if one.read(ByteSpan(a.at + begin, size)) != other.read(ByteSpan(b.at + begin, size)):
            return False
    return True
