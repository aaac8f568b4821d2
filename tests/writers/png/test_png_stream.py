"""PNG files made straight from bands: random pictures, read back by readers of others."""

import struct
import zlib
from io import BytesIO

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from support.reference import reference

from guidekit.raster.bands import Bands
from guidekit.writers.pixels.pixel_format import PixelFormat
from guidekit.writers.png.encode import encode_png, encode_small_png

#: PNG, third edition, section 11.2.1
GREY, TRUECOLOUR, INDEXED, GREY_WITH_ALPHA, TRUECOLOUR_WITH_ALPHA = 0, 2, 3, 4, 6


def banded(rows: np.ndarray, heights: list[int]) -> tuple[Bands, np.ndarray]:
    """Rows of packed colours, each so many times, as bands; and the same as a plane."""
    starts, values, first = [], [], [0]
    for row in rows:
        begins = np.append(0, np.flatnonzero(row[1:] != row[:-1]) + 1)
        starts.append(begins)
        values.append(row[begins])
        first.append(first[-1] + len(begins))
    tops = np.append(0, np.cumsum(heights))
    picture = Bands(
        0, rows.shape[1], tops, np.array(first), np.concatenate(starts), np.concatenate(values)
    )
    return picture, np.repeat(rows, heights, axis=0)


def coloured(number: int, rows: int, width: int, seed: int = 1) -> np.ndarray:
    """Packed colours, exactly `number` different ones, at random places."""
    chance = np.random.default_rng(seed)
    colours = chance.choice(2**32, number, replace=False).astype(np.uint32)
    places = chance.integers(0, number, rows * width)
    places[chance.permutation(rows * width)[:number]] = np.arange(number)
    return colours[places].reshape(rows, width)


def file_of(picture: Bands, dpi: int = 300) -> bytes:
    """The whole file, as small as may be."""
    return b"".join(encode_small_png(picture, dpi))


def pixels(data: bytes) -> np.ndarray:
    """What Pillow reads, packed as alpha, red, green, blue."""
    parts = np.asarray(Image.open(BytesIO(data)).convert("RGBA")).astype(np.uint32)
    red, green, blue, alpha = (parts[..., channel] for channel in range(4))
    return alpha << 24 | red << 16 | green << 8 | blue


def chunks(data: bytes) -> dict[bytes, bytes]:
    """The chunks by type (section 5.3), each sum checked, and nothing behind the last."""
    assert data[:8] == b"\x89PNG\r\n\x1a\n"
    found, at = {}, 8
    while at < len(data):
        (length,) = struct.unpack_from(">I", data, at)
        kind, body = data[at + 4 : at + 8], data[at + 8 : at + 8 + length]
        assert struct.unpack_from(">I", data, at + 8 + length) == (zlib.crc32(kind + body),)
        assert kind not in found
        found[kind] = body
        at += length + 12
    return found


@st.composite
def pictures(draw: st.DrawFn) -> tuple[Bands, np.ndarray]:
    """A picture of a few different rows, each some times and one of them up to a few thousand."""
    number = draw(st.sampled_from([1, 2, 3, 15, 16, 17, 40]))
    rows, width = draw(st.integers(1, 12)), draw(st.integers(1, 300))
    number = min(number, rows * width)
    heights = draw(st.lists(st.integers(1, 40), min_size=rows, max_size=rows))
    heights[-1] = draw(st.sampled_from([1, 16, 17, 63, 64, 65, 128, 1000, 4097]))
    return banded(coloured(number, rows, width, draw(st.integers(0, 2**32))), heights)


@given(pictures())
def test_pillow_reads_what_was_written(given_picture: tuple[Bands, np.ndarray]) -> None:
    """Any picture decodes to its own pixels; the stream's Adler-32 is that of all its rows."""
    picture, plane = given_picture
    data = file_of(picture)
    assert np.array_equal(pixels(data), plane)
    assert zlib.decompress(chunks(data)[b"IDAT"])  # RFC 1950: raises where the sum is wrong


@given(pictures())
def test_pypng_reads_what_was_written(given_picture: tuple[Bands, np.ndarray]) -> None:
    """The reader pypng, which undoes filters and palettes by itself, sees the same pixels."""
    picture, plane = given_picture
    *_, rows, _ = reference("png").Reader(bytes=file_of(picture)).asRGBA8()
    parts = np.vstack([*map(np.uint8, rows)]).astype(np.uint32).reshape(*plane.shape, 4)
    assert np.array_equal(parts @ np.array([1 << 16, 1 << 8, 1, 1 << 24], np.uint32), plane)


#: Grey, alpha → colour type and the samples of a pixel in packed colours.
FORMS = {
    (False, False): (TRUECOLOUR, (16, 8, 0)),
    (False, True): (TRUECOLOUR_WITH_ALPHA, (16, 8, 0, 24)),
    (True, False): (GREY, (16,)),
    (True, True): (GREY_WITH_ALPHA, (16, 24)),
}


@pytest.mark.parametrize("depth", [8, 16])
@pytest.mark.parametrize(("grey", "alpha"), FORMS)
@given(given_picture=pictures())
def test_every_sample(
    grey: bool, alpha: bool, depth: int, given_picture: tuple[Bands, np.ndarray]
) -> None:
    """Of any form pypng reads its colour type and depth, and every sample; 16 bits are v × 257."""
    picture, plane = given_picture
    data = b"".join(encode_png(picture, PixelFormat(grey, alpha, depth), 300))
    kind, shifts = FORMS[grey, alpha]
    assert chunks(data)[b"IHDR"][8:] == bytes([depth, kind, 0, 0, 0])
    assert not {b"PLTE", b"tRNS"} & set(chunks(data))
    _, _, rows, info = reference("png").Reader(bytes=data).read()
    assert (info["greyscale"], info["alpha"], info["bitdepth"]) == (grey, alpha, depth)
    samples = np.vstack([*map(np.uint16, rows)]).reshape(*plane.shape, len(shifts))
    wanted = np.stack([plane >> shift & 255 for shift in shifts], axis=2)
    assert np.array_equal(samples, wanted * (257 if depth == 16 else 1))


@pytest.mark.parametrize("rows", [15, 16, 17, 31, 32, 1000, 2048, 70_000])
@pytest.mark.parametrize("width", [1, 2, 129])
def test_repeated_rows(rows: int, width: int) -> None:
    """A row repeated any number of times gives a stream with the right Adler-32 (RFC 1950)."""
    picture, plane = banded(coloured(2, 3, max(2, width), seed=rows)[:, :width], [1, rows, 2])
    stream = chunks(file_of(picture))[b"IDAT"]
    raw = zlib.decompress(stream)
    assert stream[-4:] == zlib.adler32(raw).to_bytes(4, "big")
    bits = 1 if len(np.unique(plane)) <= 2 else 2
    assert len(raw) == len(plane) * (1 + -(-width * bits // 8))  # pixels in bytes, a filter byte
    assert np.array_equal(pixels(file_of(picture)), plane)


@pytest.mark.parametrize(
    ("colours", "depth", "kind"),
    [
        (1, 1, INDEXED),
        (2, 1, INDEXED),
        (3, 2, INDEXED),
        (4, 2, INDEXED),
        (5, 4, INDEXED),
        (16, 4, INDEXED),
        (17, 8, INDEXED),
        (256, 8, INDEXED),
        (257, 8, TRUECOLOUR_WITH_ALPHA),
        (4000, 8, TRUECOLOUR_WITH_ALPHA),
    ],
)
def test_depth_by_colours(colours: int, depth: int, kind: int) -> None:
    """Palettes have as few bits as tell their colours apart; over 256 are kept without one."""
    picture, plane = banded(coloured(colours, 75, 75), [1, 40, *[1] * 73])
    data = file_of(picture)
    found = chunks(data)
    assert found[b"IHDR"][8:] == bytes([depth, kind, 0, 0, 0])  # section 11.2.1
    assert (b"PLTE" in found) == (b"tRNS" in found) == (kind == INDEXED)
    if kind == INDEXED:
        assert len(found[b"PLTE"]) == 3 * colours
        clear = {colour for colour in plane.ravel().tolist() if colour >> 24 < 255}
        assert len(found[b"tRNS"]) == len(clear)  # section 11.3.1.1: the others are opaque
    assert np.array_equal(pixels(data), plane)


@pytest.mark.parametrize(("colours", "kind"), [(2, INDEXED), (257, TRUECOLOUR)])
def test_no_alpha_where_all_is_opaque(colours: int, kind: int) -> None:
    """An opaque picture is stored without alpha, with a palette and without one."""
    picture, plane = banded(coloured(colours, 20, 20) | np.uint32(255 << 24), [1] * 20)
    found = chunks(file_of(picture))
    assert found[b"IHDR"][9] == kind
    assert b"tRNS" not in found
    assert np.array_equal(pixels(file_of(picture)), plane)


@pytest.mark.parametrize(("colours", "bits"), [(2, 1), (4, 2), (9, 4), (30, 8)])
@pytest.mark.parametrize("width", [7, 8, 9, 15, 17, 255])
def test_odd_widths(width: int, colours: int, bits: int) -> None:
    """A row takes its bits rounded up to bytes, and a filter byte."""
    picture, plane = banded(coloured(colours, 5, width, seed=3), [1] * 5)
    data = file_of(picture)
    assert len(zlib.decompress(chunks(data)[b"IDAT"])) == 5 * (1 + -(-width * bits // 8))
    assert np.array_equal(pixels(data), plane)


# PNG, third edition, section 11.3.4.3: whole pixels per metre; dpi × 10000 / 254, computed by hand
PIXELS_PER_METRE = {
    72: 2835, 96: 3780, 100: 3937, 127: 5000, 150: 5906, 254: 10000, 300: 11811, 350: 13780,
    400: 15748, 600: 23622, 1200: 47244,
}  # fmt: skip


@pytest.mark.parametrize(("dpi", "stored"), PIXELS_PER_METRE.items())
def test_resolution(dpi: int, stored: int) -> None:
    """The resolution is stored in whole pixels per metre, the same both ways, in this unit."""
    picture, _ = banded(np.array([[1, 2]], np.uint32), [1])
    data = file_of(picture, dpi)
    assert chunks(data)[b"pHYs"] == struct.pack(">IIB", stored, stored, 1)
    reader = reference("png").Reader(bytes=data)
    reader.preamble()
    assert (reader.x_pixels_per_unit, reader.y_pixels_per_unit) == (stored, stored)
    assert reader.unit_is_meter
    buffer = BytesIO()
    Image.new("L", (1, 1)).save(buffer, "png", dpi=(dpi, dpi))
    assert chunks(buffer.getvalue())[b"pHYs"] == chunks(data)[b"pHYs"]  # as Pillow rounds it
