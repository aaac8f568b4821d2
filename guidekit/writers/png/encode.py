"""PNG from bands of runs, as a sequence of chunks."""

from __future__ import annotations

import struct
import zlib
from collections.abc import Iterable, Mapping
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from guidekit.raster.bands import Bands, distinct
from guidekit.units import INCH_IN_MM, half_up
from guidekit.writers.pixels.pixel_format import PixelFormat, samples
from guidekit.writers.pixels.rows import ALPHA, BLUE, GREEN, RED, channels
from guidekit.writers.png.image_data import indexed_data, sampled_data

SIGNATURE = b"\x89PNG\r\n\x1a\n"
GREATEST_PALETTE = 256  # section 11.2.2
INDEXED = 3  # section 11.2.1
#: Grey or colour, with alpha or opaque → colour type, section 11.2.1.
COLOUR_TYPES = {(True, False): 0, (False, False): 2, (True, True): 4, (False, True): 6}

Words = Mapping[str, str]  # keyword → text, section 11.3.3.1


def encode_png(
    picture: Bands, form: PixelFormat, dpi: int, words: Words | None = None
) -> list[bytes]:
    """The file in pieces; `picture` holds colours as `blend.flatten` packs them."""
    kind = COLOUR_TYPES[form.grey, form.alpha]
    head = header(picture.box.width, picture.box.height, form.depth, kind)
    data = sampled_data(picture, samples(picture, form), form.depth // 8)
    return _file(head, dpi, words or {}, [], data)


def encode_small_png(picture: Bands, dpi: int, words: Words | None = None) -> list[bytes]:
    """The same with a palette and as few bits as it takes; in full colour where that is too small.

    Always 8 bits a sample, and no alpha where all is opaque.
    """
    colours = distinct(picture.values)
    if len(colours) > GREATEST_PALETTE:
        form = PixelFormat(grey=False, alpha=bool((colours >> ALPHA != 255).any()), depth=8)
        return encode_png(picture, form, dpi, words)
    depth = bits_for(len(colours))
    head = header(picture.box.width, picture.box.height, depth, INDEXED)
    data = indexed_data(picture, colours, depth)
    return _file(head, dpi, words or {}, palette(colours), data)


def _file(
    head: bytes, dpi: int, words: Words, before_data: Iterable[bytes], data: bytes
) -> list[bytes]:
    return [
        SIGNATURE,
        head,
        chunk(b"sRGB", b"\0"),  # section 11.3.2.5, perceptual
        chunk(b"pHYs", struct.pack(">IIB", *[pixels_per_metre(dpi)] * 2, 1)),
        *(text(keyword, value) for keyword, value in words.items() if value),
        *before_data,
        chunk(b"IDAT", data),
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


def text(keyword: str, value: str) -> bytes:
    """iTXt, section 11.3.3.4: UTF-8, not compressed, in no language."""
    return chunk(b"iTXt", keyword.encode("latin-1") + bytes(5) + value.encode())


def chunk(kind: bytes, data: bytes) -> bytes:
    """Section 5.3: length, type, data, CRC of type and data."""
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def palette(colours: NDArray[np.uint32]) -> list[bytes]:
    """PLTE and tRNS, sections 11.2.2 and 11.3.1.1: what has no alpha there is opaque.

    Colours are sorted, alpha before all, so that the opaque ones are the last.
    """
    parts = channels(colours, (RED, GREEN, BLUE, ALPHA))
    alpha = parts[parts[:, 3] < 255, 3].tobytes()
    return [chunk(b"PLTE", parts[:, :3].tobytes()), *([chunk(b"tRNS", alpha)] if alpha else [])]
