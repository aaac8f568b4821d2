"""Layer records: what each says, where its channels lie, and the tree of groups that they are."""

from __future__ import annotations

import struct
from dataclasses import dataclass, field

from psd_tools.psd.tagged_blocks import TaggedBlock

from guidekit.drawn.ours.layer_tree import LayerNode
from guidekit.drawn.psd.sections import Header, Sections
from guidekit.drawn.spans.source import ByteSpan, Cursor, Source
from guidekit.drawn.unfit import UnfitError, broken
from guidekit.plane.box import Box

SIGNATURES = (b"8BIM", b"8B64")
#: Blocks whose lengths take eight bytes in a PSB ("Additional layer information").
LONG_KEYS = frozenset(key.value for key in TaggedBlock._BIG_KEYS)
DEEP = {8: b"", 16: b"Lr16"}  # the block that has the layers of a file of this depth
MOST_BYTES = 200_000_000  # of all records without their channels
ALPHA, MASK = -1, -2  # "Channel ID"
FOLDERS, LOWER_END = (1, 2), 3  # "Section divider setting"
HIDDEN = 0x02  # "Layer records", flags; set means hidden, against the wording
DEEPEST = 200  # groups in each other


@dataclass(frozen=True)
class Mask:
    """The mask of a layer or group; `at` is where its rectangle begins in the record's bytes."""

    at: int
    size: int
    box: Box
    outside: int
    flags: int


@dataclass(frozen=True)
class LayerRecord:
    """One layer record as it is in the file (`raw`), and what it says.

    `channels` are the id of each and its bytes, the two of its compression included.
    """

    place: int
    raw: bytes = field(repr=False)
    box: Box
    channels: tuple[tuple[int, ByteSpan], ...]
    blend: bytes
    opacity: int
    clipping: int
    flags: int
    mask: Mask | None
    ranges: bytes
    name: str
    blocks: dict[bytes, bytes] = field(repr=False)

    @property
    def divider(self) -> int:
        """What end of a group this is; 0 for a layer."""
        block = self.blocks.get(b"lsct") or self.blocks.get(b"lsdk") or b""
        return int.from_bytes(block[:4], "big")

    @property
    def visible(self) -> bool:
        """True if it is shown where the groups round it are."""
        return not self.flags & HIDDEN

    @property
    def id(self) -> int:
        """The "Layer ID"; 0 for none."""
        return int.from_bytes(self.blocks.get(b"lyid", b"")[:4], "big")

    def channel(self, number: int) -> ByteSpan | None:
        """The bytes of the channel of this id."""
        return next((span for key, span in self.channels if key == number), None)


@dataclass(frozen=True)
class LayerInfo:
    """All records, the lowest first, between what stands before and after them in their section.

    `wide` is how many bytes the length between `before` and the records takes; `negative` says that
    the count of records is, as where the first channel of transparency is that of the whole.
    """

    before: ByteSpan
    wide: int
    negative: bool
    records: tuple[LayerRecord, ...]
    after: ByteSpan


def layers_of(source: Source, sections: Sections) -> LayerInfo:
    """Read the layers of a file; raises `UnfitError`."""
    header, whole = sections.header, sections.layers
    section = Cursor(source, whole)
    if not whole.size:
        raise UnfitError("it has no layers any more", "Save it with its layers.")
    begin = section.at
    info = section.inside(header.wide)
    before, wide = ByteSpan(begin, 0), header.wide
    if not info.left:
        before, wide, info = _deep_layers(section, whole, header)
    count = info.number(2, signed=True) if info.left else 0
    if not count:
        raise UnfitError("it has no layers any more", "Save it with its layers.")
    records = _with_channels(info, [_record(info, i, header) for i in range(abs(count))])
    after = ByteSpan(info.part.end, whole.end - info.part.end)
    return LayerInfo(before, wide, count < 0, records, after)


def _deep_layers(section: Cursor, whole: ByteSpan, header: Header) -> tuple[ByteSpan, int, Cursor]:
    """The layers of a file of 16 bits, which stand in a block behind the global mask info."""
    if section.left >= 4:
        section.inside(4)
    while section.left >= 12:
        key, length = _block_head(section, header)
        if key == DEEP.get(header.depth):
            wide = _length_of(key, header)
            return ByteSpan(whole.at, section.at - wide - whole.at), wide, _part(section, length)
        section.skip(min(length + -length % 4, section.left))
    raise UnfitError("it has no layers any more", "Save it with its layers.")


def _part(section: Cursor, length: int) -> Cursor:
    return Cursor(section.source, section.skip(length))


def _length_of(key: bytes, header: Header) -> int:
    return 8 if header.psb and key in LONG_KEYS else 4


def _block_head(part: Cursor, header: Header) -> tuple[bytes, int]:
    if part.take(4) not in SIGNATURES:
        raise broken("its layers are out of order")
    key = part.take(4)
    return key, part.number(_length_of(key, header))


def _record(info: Cursor, place: int, header: Header) -> LayerRecord:
    begin = info.at
    top, left, bottom, right, count = struct.unpack(">4iH", info.take(18))
    if count > 60:
        raise broken("a layer has more channels than any")
    channels = [(info.number(2, signed=True), info.number(header.wide)) for _ in range(count)]
    if info.take(4) not in SIGNATURES:
        raise broken("its layers are out of order")
    blend, opacity, clipping, flags, _ = struct.unpack(">4s4B", info.take(8))
    extra = info.inside(4)
    if extra.part.end - info.part.at > MOST_BYTES:
        raise UnfitError("its layers carry more than any drawing app gives them")
    masks = extra.inside(4)
    mask = _mask(masks, masks.part.at - begin) if masks.left else None
    ranges = extra.inside(4)
    name = extra.take(extra.number(1))
    extra.skip(-(1 + len(name)) % 4)
    blocks = _blocks(extra, header)
    return LayerRecord(
        place,
        info.source.read(ByteSpan(begin, info.at - begin)),
        Box(left, top, right, bottom),
        tuple((key, ByteSpan(0, length)) for key, length in channels),
        blend,
        opacity,
        clipping,
        flags,
        mask,
        ranges.take(ranges.left),
        _name(name, blocks),
        blocks,
    )


def _mask(part: Cursor, at: int) -> Mask:
    """Layer mask data: a rectangle, the value outside it, flags."""
    size = part.left
    if size < 18:
        raise broken("a mask is cut off")
    top, left, bottom, right, outside, flags = struct.unpack(">4i2B", part.take(18))
    return Mask(at, size, Box(left, top, right, bottom), outside, flags)


def _blocks(part: Cursor, header: Header) -> dict[bytes, bytes]:
    found: dict[bytes, bytes] = {}
    while part.left >= 12:
        key, length = _block_head(part, header)
        found[key] = part.take(length)
        for _ in range(3):  # programs differ in what they pad to
            if part.left < 4 or part.source.read(ByteSpan(part.at, 4)) in SIGNATURES:
                break
            part.skip(1)
    return found


def _name(plain: bytes, blocks: dict[bytes, bytes]) -> str:
    """The Unicode name; where a program has dropped it, the one of one byte a letter."""
    block = blocks.get(b"luni", b"")
    count = int.from_bytes(block[:4], "big")
    if count and len(block) >= 4 + 2 * count:
        return block[4 : 4 + 2 * count].decode("utf-16-be", "replace").rstrip("\0")
    return plain.decode("macroman")


def _with_channels(info: Cursor, records: list[LayerRecord]) -> tuple[LayerRecord, ...]:
    """Records with the places of their channels, which stand behind all of them in their order."""
    found = []
    for record in records:
        spans = tuple((key, info.skip(span.size)) for key, span in record.channels)
        found.append(LayerRecord(**{**vars(record), "channels": spans}))
    return tuple(found)


def tree_of(info: LayerInfo) -> tuple[LayerNode, ...]:
    """The groups and layers, the uppermost first; raises `UnfitError` where groups do not close."""
    levels: list[list[LayerNode]] = [[]]
    ends: list[int] = []
    for record in info.records:
        if record.divider == LOWER_END:
            levels.append([])
            ends.append(record.place)
            if len(levels) > DEEPEST:
                raise broken("its groups are nested too deeply")
        elif record.divider in FOLDERS:
            if not ends:
                raise broken("a group of layers has no end")
            members = tuple(reversed(levels.pop()))
            levels[-1].append(_node(record, members, ends.pop()))
        else:
            levels[-1].append(_node(record))
    if ends:
        raise broken("a group of layers has no beginning")
    return tuple(reversed(levels[0]))


def _node(
    record: LayerRecord, members: tuple[LayerNode, ...] | None = None, lower: int | None = None
) -> LayerNode:
    return LayerNode(
        record.name, record.place, record.box, record.visible, record.opacity, members, lower
    )
