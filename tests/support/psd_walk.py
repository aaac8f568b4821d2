"""A strict walk over every byte of a PSD or PSB, by the public PSD file format specification.

The section names in quotes are those of the specification. Every length that the file states must
be the length of what stands there, and the last byte of the file is the last of the merged image.
"""

from dataclasses import dataclass, field
from functools import lru_cache

SIGNATURE = b"8BIM"


class Bytes:
    """A piece of the file that is read from its first byte to its last, and not one further."""

    def __init__(self, data: bytes) -> None:
        self.data, self.at = data, 0

    def take(self, count: int) -> bytes:
        """The next bytes; they must be there."""
        assert self.at + count <= len(self.data), f"{count} bytes at {self.at} reach past the end"
        self.at += count
        return self.data[self.at - count : self.at]

    def number(self, size: int, signed: bool = False) -> int:
        """A number of `size` bytes."""
        return int.from_bytes(self.take(size), "big", signed=signed)

    def section(self, size: int = 4) -> "Bytes":
        """A length of `size` bytes, and as many bytes behind it."""
        return Bytes(self.take(self.number(size)))

    def pascal(self, multiple: int) -> bytes:
        """A length byte, so many bytes, zeros up to the next multiple."""
        text = self.take(self.number(1))
        assert not any(self.take(-(1 + len(text)) % multiple))
        return text

    @property
    def left(self) -> int:
        """How many bytes are still to be read."""
        return len(self.data) - self.at


@dataclass
class Record:
    """One layer record; `planes` has the rows of each channel, decoded, None where it is empty.

    `mask` is the rectangle of channel −2, left, top, right, bottom, and the value outside it.
    """

    left: int
    top: int
    right: int
    bottom: int
    channels: dict[int, int]
    blend: bytes = b""
    opacity: int = 0
    clipping: int = 0
    flags: int = 0
    name: bytes = b""
    mask: tuple[int, ...] | None = None
    blocks: dict[bytes, bytes] = field(default_factory=dict)
    planes: dict[int, list[bytes] | None] = field(default_factory=dict)

    @property
    def unicode_name(self) -> str:
        """The name in "Unicode layer name": the number of UTF-16 units, then the units."""
        block = Bytes(self.blocks[b"luni"])
        text = block.take(2 * block.number(4)).decode("utf-16-be")
        assert not any(block.take(block.left)), "only zeros may follow the name"
        return text


@dataclass
class Walked:
    """Everything that the file says; records are the lowest first, as they are stored."""

    version: int
    channels: int
    width: int
    height: int
    depth: int
    mode: int
    resources: dict[int, bytes]
    records: list[Record]
    merged: list[list[bytes]]


def walk(data: bytes) -> Walked:
    """Read the whole file; raises `AssertionError` at the first byte that does not fit."""
    file = Bytes(data)
    assert file.take(4) == b"8BPS"  # "File header section"
    version = file.number(2)
    assert version in (1, 2)
    assert file.take(6) == bytes(6)
    channels = file.number(2)
    height, width = file.number(4), file.number(4)
    assert max(width, height) <= (30_000 if version == 1 else 300_000)
    depth, mode = file.number(2), file.number(2)
    assert file.section().left == 0  # "Color mode data section": for indexed colour only
    resources = _resources(file.section())
    wide = 8 if version == 2 else 4
    section = file.section(wide)  # "Layer and mask information section"
    records = _records(section.section(wide), wide, depth)
    assert section.number(4) == 0  # "Global layer mask info": there, and empty
    assert section.left == 0
    assert file.number(2) == 1  # "Image data section": RLE, all row lengths first
    lengths = [file.number(wide // 2) for _ in range(channels * height)]
    rows = [unpacked_row(file.take(length), width * depth // 8) for length in lengths]
    assert file.left == 0, f"{file.left} bytes behind the end"
    merged = [rows[i * height : (i + 1) * height] for i in range(channels)]
    return Walked(version, channels, width, height, depth, mode, resources, records, merged)


def _resources(section: Bytes) -> dict[int, bytes]:
    """Read "Image resource blocks": signature, number, name, data padded to an even length."""
    found: dict[int, bytes] = {}
    while section.left:
        assert section.take(4) == SIGNATURE
        number = section.number(2)
        assert section.pascal(2) == b""
        assert number not in found
        found[number] = section.take(section.number(4))
        assert not any(section.take(len(found[number]) % 2))
    return found


def _records(section: Bytes, wide: int, depth: int) -> list[Record]:
    """Read "Layer info": all records, then all channels, zeros up to a multiple of 4."""
    assert len(section.data) % 4 == 0
    records = [_record(section, wide) for _ in range(section.number(2, signed=True))]
    for record in records:
        box = record.left, record.top, record.right, record.bottom
        for channel, length in record.channels.items():
            where = record.mask if channel == -2 and record.mask else box
            record.planes[channel] = _plane(Bytes(section.take(length)), where, wide, depth)
    assert section.left < 4
    assert not any(section.take(section.left))
    return records


def _record(section: Bytes, wide: int) -> Record:
    """Read one of the "Layer records"."""
    top, left, bottom, right = (section.number(4, signed=True) for _ in range(4))
    channels = {
        section.number(2, signed=True): section.number(wide) for _ in range(section.number(2))
    }
    record = Record(left, top, right, bottom, channels)
    assert section.take(4) == SIGNATURE
    record.blend = section.take(4)
    record.opacity, record.clipping = section.number(1), section.number(1)
    record.flags = section.number(1)
    assert section.number(1) == 0
    extra = section.section()
    record.mask = _mask(extra.section())
    assert (record.mask is not None) == (-2 in channels)
    assert extra.section().left % 8 == 0  # "Layer blending ranges data"
    record.name = extra.pascal(4)
    while extra.left:  # "Additional layer information"
        assert extra.take(4) == SIGNATURE
        key = extra.take(4)
        assert key not in record.blocks
        record.blocks[key] = extra.section().data
        assert len(record.blocks[key]) % 2 == 0
    return record


def _mask(data: Bytes) -> tuple[int, ...] | None:
    """Read "Layer mask / adjustment layer data": nothing, or a rectangle and no flags."""
    if not data.left:
        return None
    top, left, bottom, right, outside = (
        *(data.number(4, signed=True) for _ in range(4)),
        data.number(1),
    )
    assert not any(data.take(data.left))
    return left, top, right, bottom, outside


def _plane(data: Bytes, box: tuple[int, ...], wide: int, depth: int) -> list[bytes] | None:
    """Read "Channel image data": RLE, or two bytes where there are no pixels."""
    width, height = box[2] - box[0], box[3] - box[1]
    compression = data.number(2)
    if not width * height:
        assert compression == 0
        assert data.left == 0
        return None
    assert compression == 1
    lengths = [data.number(wide // 2) for _ in range(height)]
    rows = [unpacked_row(data.take(length), width * depth // 8) for length in lengths]
    assert data.left == 0
    return rows


@lru_cache(maxsize=4096)
def unpacked_row(packed: bytes, width: int) -> bytes:
    """One row; it must come out exactly `width` bytes long."""
    row = unpacked(packed)
    assert len(row) == width
    return row


def unpacked(packed: bytes) -> bytes:
    """PackBits by the words of TIFF 6.0, section 9, which gives n as a signed byte."""
    source, result = Bytes(packed), bytearray()
    while source.left:
        n = source.number(1, signed=True)
        if n >= 0:
            result += source.take(n + 1)
        elif n > -128:  # −128 is a byte that says nothing
            result += source.take(1) * (1 - n)
    return bytes(result)
