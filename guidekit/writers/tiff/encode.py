"""The file put together: header, strips, directory."""

from __future__ import annotations

import json
import struct
from collections.abc import Iterator, Sequence
from itertools import accumulate
from typing import Any

import numpy as np
from numpy.typing import NDArray

from guidekit.layers.model import Stack
from guidekit.raster.bands import Bands
from guidekit.writers.metadata import colour_profile
from guidekit.writers.pixels.deflate import ZlibStream
from guidekit.writers.pixels.pixel_format import PixelFormat, samples
from guidekit.writers.pixels.rows import packed_rows
from guidekit.writers.tiff.directory import (
    Field,
    directory,
    long,
    rational,
    short,
    text,
    undefined,
)

STRIP_ROWS = 64
HEADER_SIZE = 8


def encode_tiff(picture: Bands, form: PixelFormat, stack: Stack) -> list[bytes]:
    """The file in pieces; `picture` holds colours as `blend.flatten` packs them.

    Resolution, profile and info are those of the stack that it shows.
    """
    data = [*strips(picture, stored(picture, form))]
    offsets = [*accumulate(map(len, data), initial=HEADER_SIZE)]
    end = offsets.pop()
    padding = bytes(end % 2)  # section 2: a directory begins on a word boundary
    end += len(padding)
    fields = [
        *picture_fields(picture, form),
        *strip_fields(offsets, [*map(len, data)]),
        *resolution_fields(stack.dpi),
        text(270, json.dumps(stack.info, sort_keys=True)),  # ImageDescription; ASCII by escapes
    ]
    if stack.profile:
        fields.append(undefined(34675, colour_profile(form.grey)))  # ICC.1, annex B.4
    return [header(end), *data, padding, directory(fields, end)]


def header(directory_at: int) -> bytes:
    """Section 2: byte order (little-endian), 42, the offset of the first directory."""
    return struct.pack("<2sHI", b"II", 42, directory_at)


def picture_fields(picture: Bands, form: PixelFormat) -> list[Field]:
    """Sections 8, 14 and 18: size, kind of pixels, how they are compressed."""
    fields = [
        long(256, picture.box.width),  # ImageWidth
        long(257, picture.box.height),  # ImageLength
        short(258, *[form.depth] * len(form.places)),  # BitsPerSample
        short(259, 8),  # Compression: a zlib stream (TIFF Technical Notes, 2002)
        short(262, 1 if form.grey else 2),  # PhotometricInterpretation: black is 0; RGB
        short(277, len(form.places)),  # SamplesPerPixel
        short(284, 1),  # PlanarConfiguration: the samples of a pixel stand together
        short(317, 2),  # Predictor: horizontal differencing
    ]
    if form.alpha:
        fields.append(short(338, 2))  # ExtraSamples: unassociated alpha
    return fields


def strip_fields(offsets: Sequence[int], sizes: Sequence[int]) -> list[Field]:
    """Where the strips are: StripOffsets, RowsPerStrip, StripByteCounts."""
    return [long(273, *offsets), long(278, STRIP_ROWS), long(279, *sizes)]


def resolution_fields(dpi: int) -> list[Field]:
    """XResolution, YResolution, ResolutionUnit: inch."""
    return [rational(282, dpi, 1), rational(283, dpi, 1), short(296, 2)]


def stored(picture: Bands, form: PixelFormat) -> NDArray[Any]:
    """The samples of every run as the file stores them."""
    found = samples(picture, form)
    return found if form.depth == 8 else found.astype("<u2") * np.uint16(257)


def strips(picture: Bands, pixels: NDArray[Any]) -> Iterator[bytes]:
    """Strips of `STRIP_ROWS` rows, the last of what is left, each a zlib stream of its own."""
    stream, free = ZlibStream(), STRIP_ROWS
    for row, height in zip(packed_rows(picture, pixels), picture.heights.tolist(), strict=True):
        while height >= free:
            stream.add_repeated(row, free)
            yield stream.finish()
            height -= free
            stream, free = ZlibStream(), STRIP_ROWS
        if height:
            stream.add_repeated(row, height)
            free -= height
    if free < STRIP_ROWS:
        yield stream.finish()
