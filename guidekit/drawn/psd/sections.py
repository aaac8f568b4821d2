"""The five sections of a file, and its image resources."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from guidekit.drawn.spans.source import ByteSpan, Cursor, Source
from guidekit.drawn.unfit import UnfitError, broken

RAW, RLE, ZIP, ZIP_WITH_PREDICTION = range(4)  # "Channel image data": compression
GREY, RGB = 1, 3  # "File header section": colour modes
MODES = {0: "bitmap", 2: "indexed colour", 4: "CMYK", 7: "multichannel", 8: "duotone", 9: "Lab"}
LONGEST_EDGE = 300_000  # pixels, of a PSB
MOST_RESOURCES = 10_000
RESOLUTION, XMP = 1005, 1060  # "Image resource IDs"


@dataclass(frozen=True)
class Header:
    """The file header; `wide` is how many bytes lengths of layers have."""

    version: int
    channels: int
    height: int
    width: int
    depth: int
    mode: int

    @property
    def psb(self) -> bool:
        """True for the format of large files."""
        return self.version == 2

    @property
    def wide(self) -> int:
        """Bytes of a length that is longer in a PSB."""
        return 8 if self.psb else 4

    @property
    def colours(self) -> int:
        """How many channels a colour has."""
        return 1 if self.mode == GREY else 3


@dataclass(frozen=True)
class Resource:
    """An image resource: its number, all of its block, and its data."""

    number: int
    whole: ByteSpan
    data: ByteSpan


@dataclass(frozen=True)
class Sections:
    """Where everything lies; `layers` and `merged` are those sections without their lengths."""

    header: Header
    colour_mode: ByteSpan
    resources: tuple[Resource, ...]
    layers: ByteSpan
    merged: ByteSpan

    def resource(self, number: int) -> Resource | None:
        """The first resource of this number."""
        return next((one for one in self.resources if one.number == number), None)


def sections_of(source: Source) -> Sections:
    """Read the plan of a file; raises `UnfitError` for what is no PSD or PSB, or a broken one."""
    file = Cursor(source, ByteSpan(0, source.size))
    header = _header(file)
    colour_mode = ByteSpan(file.at, 4 + file.inside(4).part.size)
    resources = tuple(_resources(file.inside(4)))
    layers = file.inside(header.wide).part
    return Sections(header, colour_mode, resources, layers, ByteSpan(file.at, file.left))


def fit_sections(source: Source) -> Sections:
    """The same; raises `UnfitError` also for a file that guides cannot be put into."""
    found = sections_of(source)
    if found.header.mode not in (GREY, RGB):
        mode = MODES.get(found.header.mode, "an unknown colour mode")
        raise UnfitError(f"it is in {mode}, and guides are made in RGB or grey", "Convert it.")
    if found.header.depth not in (8, 16):
        came = f"it has {found.header.depth} bits a channel, and guides are made with 8 or 16"
        raise UnfitError(came, "Convert it.")
    _check_merged(source, found.header, found.merged)
    return found


def _check_merged(source: Source, header: Header, merged: ByteSpan) -> None:
    """Raise `UnfitError` if the last section is cut off, and so the file."""
    rows, line = header.channels * header.height, header.width * header.depth // 8
    kind = int.from_bytes(source.read(ByteSpan(merged.at, 2)), "big")
    size = rows * line if kind == RAW else 0
    if kind == RLE:
        wide = header.wide // 2
        table = source.read(ByteSpan(merged.at + 2, rows * wide))
        size = len(table) + int(np.frombuffer(table, f">u{wide}").sum(dtype=np.int64))
    if 2 + size > merged.size:
        raise broken("it is cut off")


def _header(file: Cursor) -> Header:
    if file.left < 26 or file.take(4) != b"8BPS":
        raise UnfitError(
            "this is no PSD file, whatever its name says", "Save it as PSD in the app."
        )
    version = file.number(2)
    if version not in (1, 2):
        raise broken(f"its version is {version}, and there are 1 and 2")
    file.skip(6)
    channels, height, width = file.number(2), file.number(4), file.number(4)
    depth, mode = file.number(2), file.number(2)
    if not 1 <= channels <= 56 or not 1 <= min(height, width) <= max(height, width) <= LONGEST_EDGE:
        raise broken("its size is none that a file can have")
    return Header(version, channels, height, width, depth, mode)


def _resources(section: Cursor) -> list[Resource]:
    found: list[Resource] = []
    while section.left >= 12:
        begin = section.at
        if section.take(4) not in (b"8BIM", b"MeSa", b"AgHg", b"PHUT", b"DCSR"):
            raise broken("its image resources are out of order")
        number = section.number(2)
        name = section.number(1)
        section.skip(name + (1 - name % 2))  # padded to an even length with its length byte
        size = section.number(4)
        data = section.skip(size)
        section.skip(min(size % 2, section.left))
        found.append(Resource(number, ByteSpan(begin, section.at - begin), data))
        if len(found) > MOST_RESOURCES:
            raise broken("it has more image resources than any file")
    return found


def dpi_of(source: Source, sections: Sections) -> float | None:
    """Pixels per inch across, from 16.16 fixed; None if the file does not say."""
    found = sections.resource(RESOLUTION)
    if not found or found.data.size < 4:
        return None
    return int.from_bytes(source.read(ByteSpan(found.data.at, 4)), "big") / 65536
