"""Layer records: a stack's groups and layers as the flat, bottom-first list of the format.

Section names are those of the public PSD file format specification.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from io import BytesIO
from typing import IO, Any, NamedTuple

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
from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.raster.shapes import Shape, cover
from guidekit.writers.pixels.grey import stored_colour
from guidekit.writers.psd.channels import (
    NO_DATA,
    Encoding,
    coverage_channel,
    flat_channel,
)

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


class ReadyRecord(NamedTuple):
    """A record as the bytes it is written as: pages share it, for it takes long to make one."""

    data: bytes
    channel_info: tuple[()] = ()  # where the library would fill in lengths; they are in `data`

    def write(self, file: IO[bytes], *_: object, **__: object) -> int:
        """Write it, as the library writes a record of its own."""
        return file.write(self.data)


class RecordWithChannels(NamedTuple):
    """A layer record and the channels that go with it."""

    record: ReadyRecord
    channels: ChannelDataList


class FileTraits(NamedTuple):
    """What holds for all records of a file."""

    canvas: Box
    grey: bool
    encoding: Encoding

    @property
    def colours(self) -> int:
        """How many channels a colour has."""
        return 1 if self.grey else 3


def records(
    stack: Stack, encoding: Encoding, first: int = 0
) -> tuple[list[RecordWithChannels], int | None]:
    """All records, the lowest first, and the place of the selected layer's among them.

    `first` is the place of the first, where others lie below.
    """
    setting = FileTraits(stack.canvas, stack.grey, encoding)
    entries: list[RecordWithChannels] = []
    selected: int | None = None
    for member in _lowest_first(stack.members):
        place = first + len(entries)
        if isinstance(member, Layer):
            selected = place if member is stack.selected else selected
            entries.append(_layer(member, place, setting))
        else:
            entries.append(_divider(member, place, setting))
    return entries, selected


def _lowest_first(members: tuple[Layer | Group, ...]) -> Iterator[Layer | Group | None]:
    """Layers and groups as records list them; None is the lower end of a group.

    A group comes without its members, so that it is the same whatever is drawn in it.
    """
    for member in reversed(members):
        if isinstance(member, Layer):
            yield member
        else:
            yield None
            yield from _lowest_first(member.members)
            yield replace(member, members=())


@remembered
def _layer(layer: Layer, place: int, setting: FileTraits) -> RecordWithChannels:
    box = layer.coverage(setting.canvas).box
    record = _record(layer.name, box, layer, place, setting)
    record.opacity = layer.opacity
    record.blend_mode = BLENDS[layer.blend]
    if box.is_empty:
        return _entry(record, [NO_DATA] * (setting.colours + 1), setting)
    values = stored_colour(layer.colour, setting.grey)[: setting.colours]
    data = [coverage_channel(layer.shapes, setting.canvas, setting.encoding)]
    data += [flat_channel(v, box.width, box.height, setting.encoding) for v in values]
    return _entry(record, data, setting)


@remembered
def _divider(group: Group | None, place: int, setting: FileTraits) -> RecordWithChannels:
    """Section divider setting: the upper end of a group carries its name, the lower none."""
    name = group.name if group else END_OF_GROUP
    record = _record(name, Box(0, 0, 0, 0), group, place, setting)
    kind = SectionDivider.OPEN_FOLDER if group else SectionDivider.BOUNDING_SECTION_DIVIDER
    blend = BlendMode.PASS_THROUGH if group else None
    record.tagged_blocks.set_data(Tag.SECTION_DIVIDER_SETTING, kind, b"8BIM", blend)
    record.blend_mode = blend or BlendMode.NORMAL
    channels = [NO_DATA] * (setting.colours + 1)
    if group and group.mask:
        channels.append(_mask(record, group.mask, setting))
    return _entry(record, channels, setting)


def _mask(record: LayerRecord, shapes: tuple[Shape, ...], setting: FileTraits) -> ChannelData:
    """Layer mask data: a rectangle, black outside it, and a channel of its own."""
    box = cover(shapes, setting.canvas).box
    record.mask_data = MaskData(
        top=box.top, left=box.left, bottom=box.bottom, right=box.right, background_color=0
    )
    record.channel_info.append(ChannelInfo(id=ChannelID.USER_LAYER_MASK))
    return NO_DATA if box.is_empty else coverage_channel(shapes, setting.canvas, setting.encoding)


def _record(
    name: str, box: Box, member: Layer | Group | None, place: int, setting: FileTraits
) -> LayerRecord:
    """Layer records: what layers and both ends of a group have in common."""
    channels = [ChannelID.TRANSPARENCY_MASK, *(ChannelID(i) for i in range(setting.colours))]
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
    blocks = record.tagged_blocks
    blocks.set_data(Tag.UNICODE_LAYER_NAME, name)
    blocks.set_data(Tag.LAYER_ID, layer_id(place))
    if member and member.locked:
        blocks.set_data(Tag.PROTECTED_SETTING, EVERYTHING_LOCKED)
    if member and member.label != "none":
        blocks.set_data(Tag.SHEET_COLOR_SETTING, LABELS[member.label])
    return record


def _entry(
    record: LayerRecord, channels: Sequence[ChannelData], setting: FileTraits
) -> RecordWithChannels:
    """A record with the lengths of its channels, each with the two bytes of its compression."""
    for info, channel in zip(record.channel_info, channels, strict=True):
        info.length = 2 + len(channel.data)
    file = BytesIO()
    record.write(file, version=2 if setting.encoding.psb else 1)
    listed: Any = channels  # the library does not say what its list holds
    return RecordWithChannels(ReadyRecord(file.getvalue()), ChannelDataList(listed))


def layer_id(place: int) -> int:
    """The "Layer ID" of the record at a place: any number but 0, no two alike."""
    return place + 1


def _plain(name: str) -> str:
    """The fallback name: one byte a character in MacRoman, at most 255 of them."""
    return name.encode("macroman", "replace")[:255].decode("macroman")
