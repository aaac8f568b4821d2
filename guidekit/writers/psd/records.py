"""Layer records: a stack's groups and layers as the flat, bottom-first list of the format.

Section names are those of the public PSD file format specification.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import count
from typing import Any

from psd_tools.constants import BlendMode, ChannelID, SectionDivider, SheetColorType, Tag
from psd_tools.psd.layer_and_mask import (
    ChannelData,
    ChannelDataList,
    ChannelInfo,
    LayerBlendingRanges,
    LayerFlags,
    LayerRecord,
    MaskData,
)
from psd_tools.psd.tagged_blocks import TaggedBlocks

from guidekit.layers.model import Group, Layer, Stack
from guidekit.plane.box import Box
from guidekit.raster.shapes import Shape, cover
from guidekit.writers.pixels.grey import stored_colour
from guidekit.writers.psd.channels import (
    NO_DATA,
    Encoding,
    coverage_channel,
    flat_channel,
)

Entry = tuple[LayerRecord, ChannelDataList]

EVERYTHING_LOCKED = 1 | 2 | 4  # "Protected setting": transparency, composite, position
#: "Sheet color setting": a layer's mark in a list of layers.
LABELS = {
    "red": SheetColorType.RED,
    "orange": SheetColorType.ORANGE,
    "yellow": SheetColorType.YELLOW,
    "green": SheetColorType.GREEN,
    "blue": SheetColorType.BLUE,
    "violet": SheetColorType.VIOLET,
    "grey": SheetColorType.GRAY,
}
BLENDS = {"normal": BlendMode.NORMAL, "multiply": BlendMode.MULTIPLY}
#: The end of a group carries this name by custom; readers look at its divider, not at the name.
END_OF_GROUP = "</Layer group>"


def records(stack: Stack, encoding: Encoding) -> tuple[list[Entry], int | None]:
    """All records, the lowest first, and the place of the selected layer's among them."""
    writer = _Records(stack, encoding)
    entries = [*writer.of(stack.members)]
    return entries, writer.selected


class _Records:
    def __init__(self, stack: Stack, encoding: Encoding):
        self.stack, self.encoding = stack, encoding
        self.colours = 1 if stack.grey else 3
        self.next_place = count()
        self.selected: int | None = None

    def of(self, members: tuple[Layer | Group, ...]) -> Iterator[Entry]:
        for member in reversed(members):
            if isinstance(member, Layer):
                yield self.layer(member)
            else:
                yield self.divider(END_OF_GROUP, SectionDivider.BOUNDING_SECTION_DIVIDER)
                yield from self.of(member.members)
                yield self.divider(member.name, SectionDivider.OPEN_FOLDER, member)

    def layer(self, layer: Layer) -> Entry:
        bands = layer.coverage(self.stack.canvas)
        box = bands.box
        record = self.record(layer.name, box, layer)
        record.opacity = layer.opacity
        record.blend_mode = BLENDS[layer.blend]
        if box.is_empty:
            return record, self.no_data()
        values = stored_colour(layer.colour, self.stack.grey)[: self.colours]
        data = [coverage_channel(layer.shapes, self.stack.canvas, self.encoding)]
        data += [flat_channel(v, box.width, box.height, self.encoding) for v in values]
        return record, channel_list(data)

    def divider(self, name: str, kind: SectionDivider, group: Group | None = None) -> Entry:
        """Section divider setting: the upper end of a group carries its name, the lower none."""
        record = self.record(name, Box(0, 0, 0, 0), group)
        blend = BlendMode.PASS_THROUGH if group else None
        record.tagged_blocks.set_data(Tag.SECTION_DIVIDER_SETTING, kind, b"8BIM", blend)
        record.blend_mode = blend or BlendMode.NORMAL
        channels = [NO_DATA] * (self.colours + 1)
        if group and group.mask:
            channels.append(self.mask(record, group.mask))
        return record, channel_list(channels)

    def mask(self, record: LayerRecord, shapes: tuple[Shape, ...]) -> ChannelData:
        """Layer mask data: a rectangle, black outside it, and a channel of its own."""
        canvas = self.stack.canvas
        box = cover(shapes, canvas).box
        record.mask_data = MaskData(
            top=box.top, left=box.left, bottom=box.bottom, right=box.right, background_color=0
        )
        record.channel_info.append(ChannelInfo(id=ChannelID.USER_LAYER_MASK))
        return NO_DATA if box.is_empty else coverage_channel(shapes, canvas, self.encoding)

    def no_data(self) -> ChannelDataList:
        """The channels of a record with no pixels."""
        return channel_list([NO_DATA] * (self.colours + 1))

    def record(self, name: str, box: Box, member: Layer | Group | None) -> LayerRecord:
        """Layer records: what layers and both ends of a group have in common."""
        channels = [ChannelID.TRANSPARENCY_MASK, *(ChannelID(i) for i in range(self.colours))]
        # The flag bit 0x02 set means hidden, against the wording of the specification; 0x08 says
        # that 0x10, "pixel data irrelevant", has a meaning, which groups use.
        visible = member.visible if member else True
        record = LayerRecord(
            top=box.top,
            left=box.left,
            bottom=box.bottom,
            right=box.right,
            channel_info=[ChannelInfo(id=channel) for channel in channels],
            blend_mode=BlendMode.NORMAL,
            flags=LayerFlags(visible=visible, photoshop_v5_later=True),
            blending_ranges=LayerBlendingRanges([], []),
            name=_plain(name),
            tagged_blocks=TaggedBlocks(),
        )
        blocks, place = record.tagged_blocks, next(self.next_place)
        blocks.set_data(Tag.UNICODE_LAYER_NAME, name)
        blocks.set_data(Tag.LAYER_ID, layer_id(place))
        if member:
            if member is self.stack.selected:
                self.selected = place
            if member.locked:
                blocks.set_data(Tag.PROTECTED_SETTING, EVERYTHING_LOCKED)
            if member.label != "none":
                blocks.set_data(Tag.SHEET_COLOR_SETTING, LABELS[member.label])
        return record


def layer_id(place: int) -> int:
    """The "Layer ID" of the record at a place: any number but 0, no two alike."""
    return place + 1


def channel_list(channels: Any) -> ChannelDataList:
    """The library's list; `Any`, for its type says neither what it takes nor what it holds."""
    return ChannelDataList(channels)


def _plain(name: str) -> str:
    """The fallback name: one byte a character in MacRoman, at most 255 of them."""
    return name.encode("macroman", "replace")[:255].decode("macroman")
