"""The merged image and the thumbnail of an OpenRaster file, made anew from its layers."""

from __future__ import annotations

import io
import zlib
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack
from tempfile import TemporaryFile
from typing import IO
from xml.etree import ElementTree as ET

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from guidekit.drawn.composing.compose import (
    ROWS,
    Floats,
    Item,
    Paint,
    PaintGroup,
    RowStrip,
    UnknownError,
    seen,
)
from guidekit.drawn.composing.made_layers import made_items, paint_of
from guidekit.drawn.ora.drawing import OraDrawing
from guidekit.drawn.ours.layer_tree import Added, CanvasPlace, Kept, LayerNode, LayerPart, Repainted
from guidekit.layers.model import Stack
from guidekit.plane.box import Box
from guidekit.store.picture import picture_in
from guidekit.writers.ora.layer_files import LONGEST_THUMBNAIL
from guidekit.writers.png.encode import SIGNATURE, chunk, header, text
from guidekit.writers.png.words import words

RGB = 2  # PNG colour type
TEXTS = (b"tEXt", b"zTXt", b"iTXt")  # PNG, section 11.3.3
SUB = 1  # PNG filter type: the difference to the pixel on the left
#: Layer stack specification, "composite-op".
BLENDS = {
    "svg:src-over": "normal", "svg:multiply": "multiply", "svg:screen": "screen",
    "svg:overlay": "overlay", "svg:hard-light": "hard light", "svg:darken": "darken",
    "svg:lighten": "lighten", "svg:difference": "difference",
}  # fmt: skip


def merged_png(
    drawing: OraDrawing, parts: Sequence[LayerPart], stack: Stack, place: CanvasPlace
) -> tuple[bytes, bytes]:
    """The merged image and the thumbnail as PNGs. Raises `UnknownError`, `OSError`."""
    with ExitStack() as held:
        items = _Items(drawing, stack, place, held).of(parts)
        told = [text(key, value) for key, value in words(stack, prints=True).items()]
        size = stack.canvas.size
        data = b"".join(_rows(items, *size))
    whole = [SIGNATURE, header(*size, 8, RGB), *told, chunk(b"IDAT", data), chunk(b"IEND", b"")]
    merged = b"".join(whole)
    small = io.BytesIO()
    with picture_in(io.BytesIO(merged), ("PNG",)) as image:
        image.thumbnail((LONGEST_THUMBNAIL, LONGEST_THUMBNAIL))
        bare = Image.fromarray(np.asarray(image))  # without the words of the large one
        bare.save(small, "PNG")
    return merged, small.getvalue()


def retold_png(old: bytes, stack: Stack) -> bytes:
    """An old merged image that tells of today's page; as it is where it is no PNG."""
    told = words(stack, prints=True)
    found, at = [SIGNATURE], len(SIGNATURE)
    while at + 12 <= len(old):
        size = 12 + int.from_bytes(old[at : at + 4], "big")
        kind, data = old[at + 4 : at + 8], old[at + 8 : at + size - 4]
        if kind not in TEXTS or data.partition(b"\0")[0].decode("latin-1") not in told:
            found.append(old[at : at + size])
        if kind == b"IHDR":
            found += [text(key, value) for key, value in told.items()]
        at += size
    return b"".join(found) if old.startswith(SIGNATURE) and at == len(old) else old


def _rows(items: Sequence[Item], width: int, height: int) -> Iterator[bytes]:
    """The image as a stream of deflated rows."""
    packer, columns = zlib.compressobj(6), np.arange(width)
    for top in range(0, height, ROWS):
        strip = RowStrip(top, min(top + ROWS, height), columns)
        pixels = seen(items, strip, 3, deep=False).transpose(1, 2, 0)
        rows = pixels.copy()
        rows[:, 1:] -= pixels[:, :-1]
        lines = rows.reshape(len(rows), -1)
        yield packer.compress(np.insert(lines, 0, SUB, axis=1).tobytes())
    yield packer.flush()


class _Items:
    """The layers of the new file as `guidekit.drawn.composing.compose` lays them."""

    def __init__(self, drawing: OraDrawing, stack: Stack, place: CanvasPlace, held: ExitStack):
        self.drawing, self.stack, self.place, self.held = drawing, stack, place, held

    def of(self, parts: Sequence[LayerPart]) -> tuple[Item, ...]:
        """What is shown of these, the lowest first."""
        return tuple(item for part in reversed(parts) for item in self._part(part))

    def _part(self, part: LayerPart) -> Iterator[Item]:
        if isinstance(part, Added):
            yield from made_items(part.member, self.stack.canvas, grey=False)
        elif isinstance(part, Repainted):
            if part.visible:
                blend = _blend(self.drawing.elements[part.node.key])
                canvas = self.stack.canvas
                yield paint_of(part.layer, part.opacity, blend, canvas, grey=False)
        elif isinstance(part, Kept) and part.node.visible:
            element = self.drawing.elements[part.node.key]
            opacity = part.node.opacity / 255
            if part.members is None:
                yield self._of_theirs(part.node, _blend(element), opacity)
                return
            blend = _blend(element)
            isolated = element.get("isolation") != "auto" or opacity < 1 or blend != "normal"
            yield PaintGroup(self.of(part.members), None, blend, opacity, isolated)

    def _of_theirs(self, node: LayerNode, blend: str, opacity: float) -> Paint:
        """A layer of the artist's, unpacked into a file without a name: it is as large as it is."""
        file = self.held.enter_context(TemporaryFile())  # noqa: SIM115 - closed with all of them
        for rows in self.drawing.rows(node):
            file.write(rows.data)
        box, width = node.box.shifted(self.place.x, self.place.y), self.stack.canvas.width
        part = _reader(file, box, width)

        def coverage(strip: RowStrip) -> Floats | None:
            found = part(strip)
            return None if found is None or not found[..., 3].any() else _of_one(found[..., 3])

        def colour(strip: RowStrip) -> Floats:
            found = part(strip)
            assert found is not None
            return _of_one(found[..., :3].transpose(2, 0, 1))

        return Paint(coverage, colour, blend, opacity)


def _reader(
    file: IO[bytes], box: Box, width: int
) -> Callable[[RowStrip], NDArray[np.uint8] | None]:
    """The pixels of a layer on whole strips of a canvas so wide; None where it is not."""
    left, right = max(box.left, 0), min(box.right, width)

    def part(strip: RowStrip) -> NDArray[np.uint8] | None:
        top, bottom = max(box.top, strip.top), min(box.bottom, strip.bottom)
        if top >= bottom or left >= right:
            return None
        line = box.width * 4
        file.seek((top - box.top) * line)
        rows = np.frombuffer(file.read((bottom - top) * line), np.uint8)
        rows = rows.reshape(bottom - top, box.width, 4)
        found = np.zeros((*strip.shape, 4), np.uint8)
        inside = rows[:, left - box.left : right - box.left]
        found[top - strip.top : bottom - strip.top, left:right] = inside
        return found

    return part


def _of_one(values: NDArray[np.uint8]) -> Floats:
    found = values.astype(np.float32)
    found *= np.float32(1 / 255)
    return found


def _blend(element: ET.Element) -> str:
    name = element.get("composite-op", "svg:src-over")
    if name not in BLENDS:
        raise UnknownError(element.get("name", ""))
    return BLENDS[name]
