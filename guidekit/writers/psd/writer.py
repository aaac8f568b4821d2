"""The file put together, in the order in which it is stored."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import IO, Any, cast

from psd_tools.constants import ColorMode, Compression, GlobalLayerMaskKind
from psd_tools.psd import PSD
from psd_tools.psd.color_mode_data import ColorModeData
from psd_tools.psd.header import FileHeader
from psd_tools.psd.image_data import ImageData
from psd_tools.psd.layer_and_mask import (
    ChannelImageData,
    GlobalLayerMaskInfo,
    LayerAndMaskInformation,
    LayerInfo,
    LayerRecords,
)

from guidekit.layers.model import Stack
from guidekit.raster.bands import Bands
from guidekit.raster.blend import flat_strips
from guidekit.writers.pixels.grey import stored_inks, stored_paper
from guidekit.writers.protocol import Limits, Output
from guidekit.writers.psd.channels import Encoding, merged_channels
from guidekit.writers.psd.pieces import Pieces
from guidekit.writers.psd.records import records
from guidekit.writers.psd.resources import image_resources

LARGEST_PSD = 30_000  # "File header section"; a PSB holds 300,000
LARGEST_PSB = 300_000
MOST_RECORDS = 32_767  # "Layer info": a signed 16-bit count; a group takes two


class PsdWriter:
    """Layered PSD, or PSB where the canvas needs it."""

    name = "psd"

    def limits(self, dpi: int) -> Limits:
        """What the format holds."""
        return Limits(LARGEST_PSB, MOST_RECORDS, common_edge=LARGEST_PSD)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file with all layers and the merged image of what is visible."""
        psb = stack.canvas.longest > LARGEST_PSD
        encoding = Encoding(psb, stack.depth // 8)
        merged = flat_strips(stored_inks(stack), stack.canvas, stored_paper(stack))
        file = Pieces()
        document(stack, merged, encoding).write(cast(IO[bytes], file))
        for piece in merged_channels(merged, stack.grey, encoding):
            file.write(piece)
        yield Output(f"{stack.file_name}.{'psb' if psb else 'psd'}", file.pieces)


def document(stack: Stack, merged: Sequence[Bands], encoding: Encoding) -> PSD:
    """The five sections of the file, the last of them without the rows of the merged image."""
    entries, selected = records(stack, encoding)
    layer_records: Any = [record for record, _ in entries]
    channels: Any = [data for _, data in entries]
    return PSD(
        header=FileHeader(
            version=2 if encoding.psb else 1,
            channels=1 if stack.grey else 3,
            height=stack.canvas.height,
            width=stack.canvas.width,
            depth=stack.depth,
            color_mode=ColorMode.GRAYSCALE if stack.grey else ColorMode.RGB,
        ),
        color_mode_data=ColorModeData(),
        image_resources=image_resources(stack, merged, selected),
        layer_and_mask_information=LayerAndMaskInformation(
            layer_info=LayerInfo(
                layer_count=len(entries),
                layer_records=LayerRecords(layer_records),
                channel_image_data=ChannelImageData(channels),
            ),
            # Strict parsers read past the end of the section where this is left out.
            global_layer_mask_info=GlobalLayerMaskInfo(kind=GlobalLayerMaskKind.PER_LAYER),
        ),
        image_data=ImageData(Compression.RLE, b""),
    )
