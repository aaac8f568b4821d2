"""Image resources of a file with other guides: all as they are, but for those that tell of them."""

from __future__ import annotations

import re
import struct
from collections.abc import Iterator, Sequence

from guidekit.drawn.info import info_of_xmp
from guidekit.drawn.psd.drawing import PsdDrawing
from guidekit.drawn.psd.sections import XMP
from guidekit.drawn.spans.source import Piece, size_of
from guidekit.layers.model import Stack
from guidekit.layers.prints import TO_DRAW_ON
from guidekit.writers.psd.resources import ruler_guides, version_info, xmp

ACTIVE, GROUPED, ENABLED = 1024, 1026, 1072  # "Image resource IDs": by places of records
RULER_GUIDES, THUMBNAIL, VERSION = 1032, 1036, 1057
PIXEL = 32  # "Grid and guides resource format": parts of a pixel
DESCRIPTION = re.compile(rb"<dc:(title|description)\b[^>]*?(?:/>|>.*?</dc:\1\s*>)", re.DOTALL)


def new_resources(
    drawing: PsdDrawing, changed: dict[int, bytes], real: bool, small: bytes = b""
) -> Iterator[Piece]:
    """The section with its length; `changed` as `changed_resources` has them.

    `real` says whether the merged image shows what the layers do. `small` takes the place of a
    small picture, wherever that is there. A resource that is there twice is changed twice.
    """
    new, version = dict(changed), bytearray(_data(drawing, VERSION) or version_info())
    version[4:5] = bytes([real])
    if version != _data(drawing, VERSION):
        new[VERSION] = bytes(version)
    there = {resource.number for resource in drawing.sections.resources}
    if small and THUMBNAIL in there:
        new[THUMBNAIL] = small
    pieces: list[Piece] = []
    for resource in drawing.sections.resources:
        data = new.get(resource.number)
        if data != b"":
            pieces.append(resource.whole if data is None else _block(resource.number, data))
    left = sorted(new.keys() - there)
    pieces += [_block(number, new[number]) for number in left if new[number]]
    yield size_of(pieces).to_bytes(4, "big")
    yield from pieces


def changed_resources(
    drawing: PsdDrawing, stack: Stack, places: Sequence[int | None]
) -> dict[int, bytes]:
    """The data of resources that are not as in the old file; empty for those it has no more.

    `places` are those that records had in the old file.
    """
    found: dict[int, bytes] = {
        RULER_GUIDES: rulers(stack) if any(stack.rulers) else b"",
        XMP: described(_data(drawing, XMP), stack),
    }
    new = {old: place for place, old in enumerate(places) if old is not None}
    active = _data(drawing, ACTIVE)
    if len(active) == 2:
        place = int.from_bytes(active, "big")
        found[ACTIVE] = struct.pack(">H", new.get(place, min(place, len(places) - 1)))
    for number, each in ((GROUPED, 2), (ENABLED, 1)):
        data = _data(drawing, number)
        if len(data) == each * len(drawing.info.records):
            plain = bytes(each - 1) + bytes([number == ENABLED])
            rows = (plain if p is None else data[p * each : (p + 1) * each] for p in places)
            found[number] = b"".join(rows)
    return {number: data for number, data in found.items() if data != _data(drawing, number)}


def rulers(stack: Stack) -> bytes:
    """The ruler guides of today."""
    return ruler_guides(*stack.rulers)


def described(packet: bytes, stack: Stack) -> bytes:
    """An XMP packet that tells of today's page; whatever else is in it stays."""
    new = xmp(stack)
    old, now = info_of_xmp(packet) if packet else None, info_of_xmp(new) or {}
    if old and {TO_DRAW_ON: now.get(TO_DRAW_ON), **old} == now:
        return packet  # older builds did not tell of layers to draw on, which alone is no change
    wanted = b"".join(match[0] for match in DESCRIPTION.finditer(new))
    bare, count = DESCRIPTION.subn(b"", packet)
    place = next((m.start() for m in DESCRIPTION.finditer(packet) if m[1] == b"description"), -1)
    if not count or place < 0:
        return new
    before = DESCRIPTION.sub(b"", packet[:place])
    told = before + wanted + bare[len(before) :]
    return told if info_of_xmp(told) == info_of_xmp(new) else new


def _data(drawing: PsdDrawing, number: int) -> bytes:
    resource = drawing.sections.resource(number)
    return drawing.source.read(resource.data) if resource else b""


def _block(number: int, data: bytes) -> bytes:
    """An image resource block without a name."""
    head = struct.pack(">4sHHI", b"8BIM", number, 0, len(data))
    return head + data + bytes(len(data) % 2)
