"""The merged image and the thumbnail of an OpenRaster file, made anew from its layers."""

from __future__ import annotations

import io
import zlib
from collections.abc import Sequence
from typing import IO

import numpy as np

from guidekit.drawn.composing.compose import ROWS, RowStrip, seen
from guidekit.drawn.composing.small_picture import SmallPicture
from guidekit.drawn.ora.drawing import OraDrawing
from guidekit.drawn.ora.png_rows import BLOCK, SUB, Rgba
from guidekit.drawn.ora.seen_layers import OraLayers
from guidekit.drawn.ours.layer_tree import CanvasPlace, LayerPart
from guidekit.drawn.spans.source import Spool
from guidekit.layers.model import Stack
from guidekit.threads import Threads
from guidekit.writers.ora.layer_files import LONGEST_THUMBNAIL
from guidekit.writers.png.encode import SIGNATURE, chunk, header, text
from guidekit.writers.png.words import words

RGB = 2  # PNG colour type
TEXTS = (b"tEXt", b"zTXt", b"iTXt")  # PNG, section 11.3.3


def merged_png(
    drawing: OraDrawing, parts: Sequence[LayerPart], stack: Stack, place: CanvasPlace, to: Spool
) -> bytes:
    """Write the merged image as a PNG; the thumbnail as another one.

    Raises `UnknownError` before anything is written, `UnfitError`, `OSError`.
    """
    width, height = stack.canvas.size
    small, packer = SmallPicture(width, height, 3, LONGEST_THUMBNAIL), zlib.compressobj(6)
    with Threads(1) as beside:
        items = OraLayers(drawing, stack, place, beside).after(parts)
        to.add(SIGNATURE + header(width, height, 8, RGB) + b"".join(_told(stack).values()))
        for top in range(0, height, ROWS):
            strip = RowStrip(top, min(top + ROWS, height), np.arange(width))
            rows = seen(items, strip, 3, deep=False)
            for channel in range(3):
                small.add(channel, top, rows[channel])
            if packed := packer.compress(_filtered(rows)):
                to.add(chunk(b"IDAT", packed))
    to.add(chunk(b"IDAT", packer.flush()) + chunk(b"IEND", b""))
    file = io.BytesIO()
    small.image.save(file, "PNG")
    return file.getvalue()


def retold_png(old: IO[bytes], stack: Stack, to: Spool) -> bool:
    """Write an old merged image so that it tells of today's page; False where it is no PNG."""
    told = _told(stack)
    if old.read(len(SIGNATURE)) != SIGNATURE:
        return False
    to.add(SIGNATURE)
    while head := old.read(8):
        left = int.from_bytes(head[:4], "big") + 4  # with the check sum
        block = old.read(min(left, BLOCK))
        stays = head[4:] not in TEXTS or block.partition(b"\0")[0].decode("latin-1") not in told
        to.add(head if stays else b"")
        while block:
            to.add(block if stays else b"")
            left -= len(block)
            block = old.read(min(left, BLOCK))
        if left:
            return False
        if head[4:] == b"IHDR":
            to.add(b"".join(told.values()))
    return True


def _told(stack: Stack) -> dict[str, bytes]:
    """What the merged image tells of its page: keyword → chunk."""
    return {key: text(key, value) for key, value in words(stack, prints=True).items()}


def _filtered(channels: Rgba) -> bytes:
    """Rows of the image as they are packed, each pixel as its difference to the one on its left."""
    pixels = channels.transpose(1, 2, 0)
    rows = pixels.copy()
    rows[:, 1:] -= pixels[:, :-1]
    return np.insert(rows.reshape(len(rows), -1), 0, SUB, axis=1).tobytes()
