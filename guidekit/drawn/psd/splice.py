"""A drawn-on file with other layers of ours, as pieces: new bytes, and spans of the old file.

Whatever is the artist's is a span. Of a layer record that stays, at most its place on a canvas of
another size is changed.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from guidekit.drawn.ours.layer_tree import Added, Aside, CanvasPlace, Kept, LayerPart, Repainted
from guidekit.drawn.psd.drawing import PsdDrawing
from guidekit.drawn.psd.layers import ALPHA, HIDDEN, MASK, LayerRecord
from guidekit.drawn.psd.sections import GREY
from guidekit.drawn.spans.source import Piece, size_of
from guidekit.drawn.unfit import UnfitError
from guidekit.layers.model import Group, Layer, Stack
from guidekit.plane.box import Box
from guidekit.raster.shapes import Shape, cover
from guidekit.writers.pixels.grey import stored_colour
from guidekit.writers.psd.channels import Encoding, coverage_channel, flat_channel
from guidekit.writers.psd.records import records

MOST_RECORDS = 32_767  # "Layer info": a signed 16-bit count
LARGEST = 2**32  # bytes that a length of four bytes can state
#: Blocks of layers that lie somewhere on the canvas by numbers of their own.
PLACED = {
    b"vmsk", b"vsms", b"vogk", b"vscg", b"TySh", b"tySh", b"SoLd", b"SoLE", b"PlLd", b"plLd",
    b"lfx2", b"lrFX", b"lmfx", b"artb", b"artd", b"abdd", b"GdFl", b"PtFl",
}  # fmt: skip


@dataclass(frozen=True)
class NewRecord:
    """A record of the new file and the data of its channels; `old` is its place in the old one."""

    record: bytes
    channels: tuple[tuple[Piece, ...], ...]
    old: int | None = None


class Splicer:
    """Puts one file together."""

    def __init__(self, drawing: PsdDrawing, stack: Stack, place: CanvasPlace):
        header = drawing.header
        self.drawing, self.place = drawing, place
        grey = header.mode == GREY
        self.stack = replace(stack, grey=grey, depth=header.depth)
        self.encoding = Encoding(header.psb, header.depth // 8)
        self.wide = header.wide
        self.next_id = max(record.id for record in drawing.info.records)

    def outs(self, parts: Sequence[LayerPart]) -> list[NewRecord]:
        """The records of the new file, the lowest first; raises `UnfitError` for too many."""
        found = [*self._outs(parts)]
        if len(found) > MOST_RECORDS:
            raise UnfitError("with today's guides it would have more layers than a PSD can hold")
        return found

    def head(self, resources: Iterable[Piece]) -> list[Piece]:
        """What stands before the layers."""
        sections, header = self.drawing.sections, self.drawing.header
        size_now = self.place.height, self.place.width
        begin = (header.version, header.channels, *size_now, header.depth, header.mode)
        return [
            struct.pack(">4sH6xHIIHH", b"8BPS", *begin),
            sections.colour_mode,
            *resources,
        ]

    def layers(self, outs: Sequence[NewRecord]) -> Iterator[Piece]:
        """The section of layers; raises `UnfitError` where it would be too large."""
        info = self.drawing.info
        body = self._layer_info(outs)
        size = size_of(body)
        body += (bytes(-size % 4),)
        size += -size % 4
        whole = info.before.size + info.wide + size + info.after.size
        if max(size, whole) >= LARGEST and not self.drawing.header.psb:
            raise UnfitError("with today's guides it would be larger than a PSD can be")
        yield whole.to_bytes(self.wide, "big")
        yield info.before
        yield size.to_bytes(info.wide, "big")
        yield from body
        yield info.after

    def _layer_info(self, outs: Sequence[NewRecord]) -> tuple[Piece, ...]:
        count = -len(outs) if self.drawing.info.negative else len(outs)
        head = [struct.pack(">h", count), *(out.record for out in outs)]
        return (b"".join(head), *(p for out in outs for data in out.channels for p in data))

    def _outs(self, parts: Sequence[LayerPart]) -> Iterator[NewRecord]:
        for part in reversed(parts):
            if isinstance(part, Added):
                yield from self._made(part.member)
            elif isinstance(part, Repainted):
                yield self._repainted(part)
            elif isinstance(part, Aside):
                lower, folder = self._made(Group(part.name, (), visible=False))
                yield lower
                yield from self._outs(part.members)
                yield folder
            elif part.members is None or part.node.lower is None:
                yield self._kept(self._record(part.node.key))
            else:
                yield self._kept(self._record(part.node.lower))
                yield from self._outs(part.members)
                yield self._folder(part)

    def _record(self, key: int) -> LayerRecord:
        return self.drawing.info.records[key]

    def _made(self, member: Group | Layer) -> tuple[NewRecord, ...]:
        """New records, under numbers that no layer of the file has."""
        entries, _ = records(replace(self.stack, members=(member,)), self.encoding, self.next_id)
        self.next_id += len(entries)
        return tuple(
            NewRecord(
                entry.record.data,
                tuple((_channel(c.compression, c.data),) for c in entry.channels),
            )
            for entry in entries
        )

    def _kept(self, record: LayerRecord, mask: bytes | None = None) -> NewRecord:
        """A record as it is, but for its place on a canvas of another size."""
        raw = record.raw
        if self.place.x or self.place.y:
            if PLACED & record.blocks.keys():
                raise UnfitError(
                    f'the layer "{record.name}" has text, shapes or effects that lie on the canvas '
                    "by numbers of their own, and the canvas changes its size",
                    "Turn it into pixels in the app, or build into another folder.",
                )
            raw = self._moved(raw, 0, record.box)
            if record.mask:
                raw = self._moved(raw, record.mask.at, record.mask.box)
                if record.mask.size >= 36:  # the rectangle of the second mask, behind two bytes
                    at = record.mask.at + 20
                    raw = self._moved(raw, at, _box_at(raw, at))
        return NewRecord(raw, tuple((span,) for _, span in record.channels), record.place)

    def _moved(self, raw: bytes, at: int, box: Box) -> bytes:
        return raw if box.is_empty else _with_box(raw, at, box.shifted(self.place.x, self.place.y))

    def _folder(self, part: Kept) -> NewRecord:
        """The record of a group; its mask is ours where it is given other shapes."""
        record = self._record(part.node.key)
        out = self._kept(record)
        if part.mask is None or record.mask is None:
            return out
        box, data = self._coverage(part.mask)
        raw = _with_box(out.record, record.mask.at, box)
        return self._with_channels(record, raw, {MASK: data})

    def _repainted(self, part: Repainted) -> NewRecord:
        """The record of a layer of ours, with other pixels."""
        record, layer = self._record(part.node.key), part.layer
        box, alpha = self._coverage(layer.shapes)
        raw = _with_box(record.raw, 0, box)
        at = 18 + len(record.channels) * (2 + self.wide) + 8  # behind signature and blend mode
        flags = record.flags & ~HIDDEN if part.visible else record.flags | HIDDEN
        raw = raw[:at] + bytes([part.opacity, raw[at + 1], flags]) + raw[at + 3 :]
        values = stored_colour(layer.colour, self.stack.grey)
        size = box.width, box.height
        data = {ALPHA: alpha}
        for number in range(1 if self.stack.grey else 3):
            flat = flat_channel(values[number], *size, self.encoding)
            data[number] = _channel(flat.compression, flat.data) if not box.is_empty else bytes(2)
        return self._with_channels(record, raw, data)

    def _coverage(self, shapes: tuple[Shape, ...]) -> tuple[Box, bytes]:
        box = cover(shapes, self.stack.canvas).box
        if box.is_empty:
            return box, bytes(2)
        found = coverage_channel(shapes, self.stack.canvas, self.encoding)
        return box, _channel(found.compression, found.data)

    def _with_channels(self, record: LayerRecord, raw: bytes, new: dict[int, bytes]) -> NewRecord:
        """A record whose channels of these ids have other data."""
        data: list[tuple[Piece, ...]] = []
        for place, (number, span) in enumerate(record.channels):
            piece: Piece = new.get(number, span)
            at = 18 + place * (2 + self.wide) + 2
            size = size_of([piece]).to_bytes(self.wide, "big")
            raw = raw[:at] + size + raw[at + self.wide :]
            data.append((piece,))
        return NewRecord(raw, tuple(data), record.place)


def _channel(compression: int, data: bytes) -> bytes:
    return struct.pack(">H", compression) + data


def _with_box(raw: bytes, at: int, box: Box) -> bytes:
    """The same bytes with a rectangle in the order of the format: top, left, bottom, right."""
    data = struct.pack(">4i", box.top, box.left, box.bottom, box.right)
    return raw[:at] + data + raw[at + 16 :]


def _box_at(raw: bytes, at: int) -> Box:
    top, left, bottom, right = struct.unpack(">4i", raw[at : at + 16])
    return Box(left, top, right, bottom)
