"""Pages drawn on as drawing apps do it, through the structures of psd-tools and not our own."""

import struct
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
from psd_tools.compression import compress
from psd_tools.constants import ChannelID, Compression, Tag
from psd_tools.psd import PSD
from psd_tools.psd.layer_and_mask import ChannelData, ChannelDataList

Entry = tuple[Any, Any]  # a record and the list of its channels


@dataclass
class Page:
    """A page open in an app: its records, the lowest first, each with its channels."""

    psd: Any
    entries: list[Entry]

    @classmethod
    def open(cls, path: Path) -> "Page":
        """Read a file."""
        with path.open("rb") as file:
            psd = PSD.read(file)
        info = layer_info(psd)
        return cls(psd, list(zip(info.layer_records, info.channel_image_data, strict=True)))

    def save(self, path: Path) -> None:
        """Write it as the library writes it, over what is there."""
        info = layer_info(self.psd)
        info.layer_records[:] = [record for record, _ in self.entries]
        info.channel_image_data[:] = [channels for _, channels in self.entries]
        info.layer_count = len(self.entries)
        with path.open("wb") as file:
            self.psd.write(file)

    def place(self, name: str) -> int:
        """Where the uppermost record of this name is."""
        return max(i for i, (record, _) in enumerate(self.entries) if name_of(record) == name)

    def ends(self, name: str) -> tuple[int, int]:
        """The records of a group: its lower end and the one with its name."""
        upper = self.place(name)
        depth = 0
        for place in range(upper, -1, -1):
            depth += {1: 1, 2: 1, 3: -1}.get(divider(self.entries[place][0]), 0)
            if not depth:
                return place, upper
        raise AssertionError(f"{name} is no group")

    def paint(self, place: int, seed: int, compression: Compression = Compression.RLE) -> None:
        """Strokes on a layer: noise of every colour and opacity in a rectangle on the canvas."""
        record, channels = self.entries[place]
        header, random = self.psd.header, np.random.default_rng(seed)
        left, top = random.integers(0, header.width - 8), random.integers(0, header.height - 8)
        width = int(random.integers(4, min(60, header.width - left) + 1))
        height = int(random.integers(4, min(60, header.height - top) + 1))
        record.left, record.top = int(left), int(top)
        record.right, record.bottom = record.left + width, record.top + height
        for n, info in enumerate(record.channel_info):
            if info.id < -1:
                continue
            values = random.integers(0, 256, (height, width), np.uint8) * random.integers(
                0, 2, (height, width), np.uint8
            )
            data = values.tobytes() if header.depth == 8 else (values.astype(">u2") * 257).tobytes()
            packed = compress(data, compression, width, height, header.depth, header.version)
            channels[n] = ChannelData(compression, packed)

    def paint_over(self, place: int) -> None:
        """One pixel of a layer that is not empty gets another colour."""
        record, channels = self.entries[place]
        n = [info.id for info in record.channel_info].index(ChannelID.CHANNEL_0)
        size = record.right - record.left, record.bottom - record.top
        header = self.psd.header
        whole = ChannelData.get_data(channels[n], *size, header.depth, header.version)
        data = bytearray(whole)
        alpha = ChannelData.get_data(channels[0], *size, header.depth, header.version)
        at = next(i for i, value in enumerate(alpha) if value)
        at -= at % (header.depth // 8)
        for i in range(header.depth // 8):
            data[at + i] ^= 255
        packed = compress(bytes(data), Compression.RLE, *size, header.depth, header.version)
        channels[n] = ChannelData(Compression.RLE, packed)

    def new_layer(self, name: str, seed: int, above: int) -> None:
        """A layer of the artist's own, without the blocks that guidekit writes."""
        layers = [record for record, _ in self.entries if not divider(record)]
        copied = _copy(layers[0], self.psd.header.version)
        copied.name, copied.opacity, copied.clipping = name, 255, 0
        copied.tagged_blocks.clear()
        listed: Any = [ChannelData(Compression.RAW, b"") for _ in copied.channel_info]
        self.entries.insert(above + 1, (copied, ChannelDataList(listed)))
        self.paint(above + 1, seed)


def layer_info(psd: Any) -> Any:
    """Where the layers are: in files of 16 bits in a block of their own."""
    section = psd.layer_and_mask_information
    blocks = section.tagged_blocks
    if blocks and Tag.LAYER_16 in blocks:
        return blocks.get_data(Tag.LAYER_16)
    return section.layer_info


def _copy(record: Any, version: int) -> Any:
    file = BytesIO()
    record.write(file, version=version)
    file.seek(0)
    return type(record).read(file, version=version)


def name_of(record: Any) -> str:
    """The Unicode name, else the plain one."""
    name: str = record.tagged_blocks.get_data(Tag.UNICODE_LAYER_NAME, record.name)
    return name


def divider(record: Any) -> int:
    """What end of a group a record is; 0 for a layer."""
    found = record.tagged_blocks.get_data(Tag.SECTION_DIVIDER_SETTING)
    return int(found.kind) if found else 0


def paths(page: Page) -> Iterator[tuple[tuple[str, ...], Entry]]:
    """Every layer and group with the names of the groups round it, the uppermost first."""
    at: list[str] = []
    for entry in reversed(page.entries):
        kind = divider(entry[0])
        if kind == 3:
            at.pop()
            continue
        yield (*at, name_of(entry[0])), entry
        if kind:
            at.append(name_of(entry[0]))


def bytes_of(entry: Entry, version: int = 1) -> bytes:
    """A record and its channels as they stand in a file, but for its place on the canvas."""
    file = BytesIO()
    entry[0].write(file, version=version)
    data = b"".join(struct.pack(">H", c.compression) + c.data for c in entry[1])
    return file.getvalue()[16:] + data


def pixels(entry: Entry, page: Page) -> tuple[tuple[int, ...], dict[int, bytes]]:
    """The rectangle of a layer that is not clear, and the channels in it, decoded.

    What lies under full transparency is left out.
    """
    record, channels = entry
    size = record.right - record.left, record.bottom - record.top
    if not size[0] * size[1]:
        return (), {}
    header = page.psd.header
    planes = {
        int(info.id): np.frombuffer(
            channel.get_data(*size, header.depth, header.version), f">u{header.depth // 8}"
        ).reshape(size[1], size[0])
        for info, channel in zip(record.channel_info, channels, strict=True)
        if info.id >= -1
    }
    rows, columns = np.nonzero(planes[-1])
    if not len(rows):
        return (), {}
    box = columns.min(), rows.min(), columns.max() + 1, rows.max() + 1
    clear = planes[-1] == 0
    cut = {
        key: np.where(clear & (key >= 0), 0, plane)[box[1] : box[3], box[0] : box[2]].tobytes()
        for key, plane in planes.items()
    }
    return (
        record.left + box[0],
        record.top + box[1],
        record.left + box[2],
        record.top + box[3],
    ), cut


Change = Callable[[Page], None]
