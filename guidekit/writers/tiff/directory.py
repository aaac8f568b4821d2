"""The image file directory: what a TIFF says about its picture (TIFF 6.0, section 2).

All numbers are little-endian.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable
from typing import NamedTuple

ASCII, SHORT, LONG, RATIONAL, UNDEFINED = 2, 3, 4, 5, 7  # types of fields


class Field(NamedTuple):
    """A field: `number` values of a type, as bytes."""

    tag: int
    type: int
    number: int
    data: bytes


def text(tag: int, value: str) -> Field:
    """ASCII: 7 bits a character, closed by a zero byte that counts."""
    data = value.encode("ascii") + b"\0"
    return Field(tag, ASCII, len(data), data)


def short(tag: int, *values: int) -> Field:
    """Numbers of 2 bytes."""
    return Field(tag, SHORT, len(values), struct.pack(f"<{len(values)}H", *values))


def long(tag: int, *values: int) -> Field:
    """Numbers of 4 bytes."""
    return Field(tag, LONG, len(values), struct.pack(f"<{len(values)}I", *values))


def rational(tag: int, numerator: int, denominator: int) -> Field:
    """A fraction of two numbers of 4 bytes."""
    return Field(tag, RATIONAL, 1, struct.pack("<II", numerator, denominator))


def undefined(tag: int, data: bytes) -> Field:
    """Bytes that mean what the tag says."""
    return Field(tag, UNDEFINED, len(data), data)


def directory(fields: Iterable[Field], at: int) -> bytes:
    """The only directory of a file, to be stored `at` this even offset, and its long values."""
    fields = sorted(fields)  # "The entries in an IFD must be sorted in ascending order by Tag."
    entries = struct.pack("<H", len(fields))
    values = b""
    end = at + 2 + 12 * len(fields) + 4
    for tag, kind, number, data in fields:
        entries += struct.pack("<HHI", tag, kind, number)
        if len(data) <= 4:
            entries += data.ljust(4, b"\0")  # a value that fits stands in place of its offset
        else:
            entries += struct.pack("<I", end + len(values))
            values += data + bytes(len(data) % 2)  # the next value begins at an even offset
    return entries + struct.pack("<I", 0) + values  # no further directory
