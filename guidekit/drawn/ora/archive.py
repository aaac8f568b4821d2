"""A ZIP whose members are copied as they are packed (PKWARE's APPNOTE, sections 4.3 and 4.4)."""

from __future__ import annotations

import struct
import zipfile
from collections.abc import Iterator, Sequence
from typing import NamedTuple
from zlib import crc32

from guidekit.drawn.spans.source import ByteSpan, Piece, Source, Spool, size_of
from guidekit.drawn.unfit import UnfitError, broken
from guidekit.store.archives import UNREADABLE, archive_in

LOCAL, CENTRAL, END = b"PK\3\4", b"PK\1\2", b"PK\5\6"
NAMES_IN_UTF8, ENCRYPTED = 0x0800, 0x0001  # general purpose flags
FIRST_DATE = 0x21  # 1 January 1980, as the format counts
LARGEST = 2**32 - 1  # bytes; beyond that a ZIP needs fields that are not written here
MOST_MEMBERS = 60_000


class Member(NamedTuple):
    """A file inside, as it is packed."""

    name: str
    method: int
    crc: int
    size: int
    data: Piece

    @property
    def packed(self) -> int:
        """Bytes in the archive."""
        return size_of([self.data])


def stored(name: str, data: bytes | Spool) -> Member:
    """A new file inside, not packed any further."""
    crc = 0
    for block in data.blocks() if isinstance(data, Spool) else [data]:
        crc = crc32(block, crc)
    return Member(name, zipfile.ZIP_STORED, crc, size_of([data]), data)


def members_of(source: Source) -> dict[str, Member]:
    """The members in their order; raises `UnfitError` for what is no ZIP, or an odd one."""
    try:
        with archive_in(source.file) as archive:
            infos = archive.infolist()
    except UNREADABLE:
        raise UnfitError(
            "this is no OpenRaster file, whatever its name says", "Save it as such."
        ) from None
    found: dict[str, Member] = {}
    if len(infos) > MOST_MEMBERS:
        raise broken("it has more files inside than any")
    for info in infos:
        if info.flag_bits & ENCRYPTED or info.filename in found:
            raise broken("files inside are encrypted, or twice there")
        head = source.read(ByteSpan(info.header_offset, 30))
        if head[:4] != LOCAL:
            raise broken("its files are not where it says")
        skip = sum(struct.unpack("<HH", head[26:30]))
        data = ByteSpan(info.header_offset + 30 + skip, info.compress_size)
        if data.end > source.size:
            raise broken("it is cut off")
        method, size = info.compress_type, info.file_size
        found[info.filename] = Member(info.filename, method, info.CRC, size, data)
    return found


def pieces_of(members: Sequence[Member]) -> Iterator[Piece]:
    """The whole archive; raises `UnfitError` where it would be too large."""
    at, directory = 0, b""
    for member in members:
        name = member.name.encode()
        common = struct.pack(
            "<HHHHIIIHH", NAMES_IN_UTF8, member.method, 0, FIRST_DATE, member.crc,
            member.packed, member.size, len(name), 0,
        )  # fmt: skip
        head = LOCAL + struct.pack("<H", 20) + common + name
        directory += CENTRAL + struct.pack("<HH", 3 << 8 | 20, 20) + common
        directory += struct.pack("<HHHII", 0, 0, 0, 0o644 << 16, at) + name
        yield head
        yield member.data
        at += len(head) + member.packed
        if at + len(directory) > LARGEST:
            raise UnfitError("with today's guides it would be larger than 4 GB")
    yield directory
    yield END + struct.pack("<HHHHIIH", 0, 0, len(members), len(members), len(directory), at, 0)
