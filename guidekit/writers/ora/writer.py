"""The file put together, in the order in which it is stored."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from io import BytesIO
from zipfile import ZIP_STORED, ZipFile, ZipInfo

from guidekit.layers.model import Stack
from guidekit.raster.blend import flatten
from guidekit.writers.ora.layer_files import layer_files, thumbnail_png
from guidekit.writers.ora.stack_xml import stack_xml
from guidekit.writers.pixels.grey import stored_inks, stored_paper
from guidekit.writers.pixels.pixel_format import PixelFormat
from guidekit.writers.png.encode import encode_png
from guidekit.writers.png.words import words
from guidekit.writers.protocol import Limits, Output

MEDIA_TYPE = b"image/openraster"  # exactly so, with no line end
OPAQUE = PixelFormat(grey=False, alpha=False, depth=8)  # a preview, as every reader takes it
LARGEST_LAYER = 2**31 - 1  # PNG, section 7.1; OpenRaster itself sets no limit


class OraWriter:
    """Layered OpenRaster."""

    name = "ora"

    def limits(self, dpi: int) -> Limits:
        """What the format holds; it has neither masks nor grey."""
        return Limits(LARGEST_LAYER, masks=False, grey=False)

    def write(self, stack: Stack) -> Iterator[Output]:
        """One file with all layers and the merged image of what is visible."""
        yield Output(f"{stack.file_name}.ora", [archive(entries(stack))])


def entries(stack: Stack) -> Iterator[tuple[str, bytes]]:
    """Paths and bytes of all files inside (file layout specification)."""
    files = [*layer_files(stack)]
    merged = flatten(stored_inks(stack), stack.canvas, stored_paper(stack))
    yield "mimetype", MEDIA_TYPE  # the first, stored
    yield "stack.xml", stack_xml(stack, files)
    for file in files:
        yield file.path, file.png
    yield (
        "mergedimage.png",
        b"".join(encode_png(merged, OPAQUE, stack.dpi, words(stack, prints=True))),
    )
    yield "Thumbnails/thumbnail.png", thumbnail_png(merged)


def archive(files: Iterable[tuple[str, bytes]]) -> bytes:
    """A ZIP whose bytes hang on nothing but its files; all are stored, for PNGs are compressed."""
    buffer = BytesIO()
    with ZipFile(buffer, "w", ZIP_STORED) as zip_file:
        for path, data in files:
            entry = ZipInfo(path, (1980, 1, 1, 0, 0, 0))  # the first date that a ZIP can hold
            entry.create_system = 3  # as on Unix, wherever this runs
            entry.external_attr = 0o644 << 16
            zip_file.writestr(entry, data)
    return buffer.getvalue()
