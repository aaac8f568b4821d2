"""PNG from bands of runs, as a sequence of chunks."""

from __future__ import annotations

import struct
import zlib
from fractions import Fraction
from typing import Any

import numpy as np
from numpy.typing import NDArray

from guidekit.raster.bands import Bands, distinct
from guidekit.units import INCH_IN_MM, half_up
from guidekit.writers.metadata import as_json
from guidekit.writers.pixels.rows import ALPHA, BLUE, GREEN, RED, channels
from guidekit.writers.png.image_data import full_colour_data, indexed_data

SIGNATURE = b"\x89PNG\r\n\x1a\n"
GREATEST_PALETTE = 256  # section 11.2.2
INDEXED, FULL_COLOUR = 3, 6  # colour types, section 11.2.1


def encode_png(
    picture: Bands, dpi: int, info: dict[str, Any], full_colour: bool = False
) -> list[bytes]:
    """The file in pieces; `picture` holds colours as `blend.flatten` packs them.

    Indexed where the colours go into a palette, unless `full_colour` is asked for.
    """
    box = picture.box
    colours = distinct(picture.values)
    indexed = len(colours) <= GREATEST_PALETTE and not full_colour
    kind = INDEXED if indexed else FULL_COLOUR
    depth = bits_for(len(colours)) if indexed else 8
    return [
        SIGNATURE,
        header(box.width, box.height, depth, kind),
        chunk(b"sRGB", b"\0"),  # section 11.3.2.5, perceptual
        chunk(b"pHYs", struct.pack(">IIB", *[pixels_per_metre(dpi)] * 2, 1)),
        *([chunk(b"iTXt", b"Description\0\0\0\0\0" + as_json(info).encode())] if info else []),
        *(palette(colours) if indexed else []),
        chunk(
            b"IDAT",
            indexed_data(picture, colours, depth) if indexed else full_colour_data(picture),
        ),
        chunk(b"IEND", b""),
    ]


def bits_for(colours: int) -> int:
    """The fewest bits that tell so many colours apart, of those a palette may have."""
    return next(depth for depth in (1, 2, 4, 8) if colours <= 1 << depth)


def header(width: int, height: int, depth: int, colour_type: int) -> bytes:
    """IHDR, section 11.2.1; deflate, adaptive filters, not interlaced."""
    return chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, depth, colour_type, 0, 0, 0))


def pixels_per_metre(dpi: int) -> int:
    """Section 11.3.4.3: whole pixels per metre, so that 600 dpi reads back as 599.9988."""
    return half_up(Fraction(dpi) * 1000 / INCH_IN_MM)


def chunk(kind: bytes, data: bytes) -> bytes:
    """Section 5.3: length, type, data, CRC of type and data."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def palette(colours: NDArray[np.uint32]) -> list[bytes]:
    """PLTE and tRNS, sections 11.2.2 and 11.3.1.1."""
    parts = channels(colours, (RED, GREEN, BLUE, ALPHA))
    return [chunk(b"PLTE", parts[:, :3].tobytes()), chunk(b"tRNS", parts[:, 3].tobytes())]
