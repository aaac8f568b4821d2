"""The rows of a PNG come a few at a time, and are those that other readers see."""

import io
import struct
import zlib
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
from numpy.typing import NDArray
from PIL import Image
from support.programs import output

from guidekit.drawn.ora.png_rows import rgba_rows
from guidekit.store.picture import NO_PICTURE
from guidekit.writers.png.encode import SIGNATURE, chunk

WIDTH, HEIGHT = 13, 29
CHANNELS = {0: 1, 2: 3, 4: 2, 6: 4}  # by colour type, section 11.2.1
Bytes = NDArray[np.uint8]


def rows_of(png: bytes, first: int = 5, many: int = 7) -> Bytes:
    """All rows, put together; each part is as high as it should be."""
    parts = [*rgba_rows(io.BytesIO(png), first, many)]
    assert [int(part.heights.sum()) for part in parts[:-1]] == [first, *[many] * (len(parts) - 2)]
    return np.concatenate([np.repeat(part.pixels, part.heights, axis=0) for part in parts])


def filtered(raw: Bytes, kinds: list[int], step: int) -> bytes:
    """Rows as section 9.2 filters them, each by its own type; `step` is the bytes of a pixel."""
    found = []
    for above, row, kind in zip([raw[0] * 0, *raw[:-1]], raw, kinds, strict=True):
        a, b, c, x = (np.zeros(len(row), int) for _ in "abcx")
        x[:], b[:], a[step:], c[step:] = row, above, row[:-step], above[:-step]
        p = a + b - c
        near = np.abs(np.array([a, b, c]) - p)  # the first of the nearest, as the section says
        paeth = np.choose(near.argmin(axis=0), [a, b, c])
        predicted = (0 * a, a, b, (a + b) // 2, paeth)[kind]
        found.append(bytes([kind]) + (x - predicted).astype(np.uint8).tobytes())
    return b"".join(found)


def png_of(raw: Bytes, kinds: list[int], depth: int, colour_type: int, pieces: int = 1) -> bytes:
    """A PNG of rows of samples, its data in so many chunks."""
    height, line = raw.shape
    step = CHANNELS[colour_type] * depth // 8
    data = zlib.compress(filtered(raw, kinds, step))
    cuts = [len(data) * n // pieces for n in range(pieces + 1)]
    head = struct.pack(">2I5B", line // step, height, depth, colour_type, 0, 0, 0)
    parts = [chunk(b"IDAT", data[begin:end]) for begin, end in pairwise(cuts)]
    return b"".join([SIGNATURE, chunk(b"IHDR", head), *parts, chunk(b"IEND", b"")])


@pytest.mark.parametrize("colour_type", CHANNELS)
@pytest.mark.parametrize("depth", [8, 16])
def test_every_filter(colour_type: int, depth: int) -> None:
    """Each row filtered by a type of its own: Pillow reads the same, of 16 bits the high bytes."""
    random = np.random.default_rng(colour_type + depth)
    line = WIDTH * CHANNELS[colour_type] * depth // 8
    raw = random.integers(0, 256, (HEIGHT, line), np.uint8)
    raw[8:12], raw[20:22] = raw[8], 0
    kinds = random.integers(0, 5, HEIGHT).tolist()
    high = raw[:, :: depth // 8]
    as_8_bits = png_of(high, [0] * HEIGHT, 8, colour_type)
    wanted = np.asarray(Image.open(io.BytesIO(as_8_bits)).convert("RGBA"))
    for pieces in (1, 9):
        assert (rows_of(png_of(raw, kinds, depth, colour_type, pieces)) == wanted).all()


def test_rows_alike() -> None:
    """What is as the row above is not made again: an empty layer, and ruled lines, are one row."""
    raw = np.zeros((HEIGHT, WIDTH * 4), np.uint8)
    for kind in range(5):
        (part,) = rgba_rows(io.BytesIO(png_of(raw, [kind] * HEIGHT, 8, 6)), 64, 64)
        assert (part.pixels.shape[0], part.heights.tolist()) == (1, [HEIGHT])
    raw[3:] = 7
    kinds = [1, *[2] * (HEIGHT - 1)]
    parts = [*rgba_rows(io.BytesIO(png_of(raw, kinds, 8, 6)), 64, 64)]
    assert [part.heights.tolist() for part in parts] == [[3, HEIGHT - 3]]


@pytest.mark.parametrize("mode", ["1", "P", "L", "RGB"])
def test_unusual_ones(mode: str) -> None:
    """Few bits, a palette, one clear colour: as Pillow reads them."""
    noise = Image.effect_noise((WIDTH, HEIGHT), 90).convert(mode)
    saved = io.BytesIO()
    noise.save(saved, "PNG", transparency=(9, 9, 9) if mode == "RGB" else 1)
    wanted = np.asarray(Image.open(io.BytesIO(saved.getvalue())).convert("RGBA"))
    assert (rows_of(saved.getvalue()) == wanted).all()


def test_interlaced(tmp_path: Path) -> None:
    """An interlaced one, written by ImageMagick."""
    plain, woven = tmp_path / "plain.png", tmp_path / "woven.png"
    noise = Image.effect_noise((WIDTH, HEIGHT), 90).convert("RGBA")
    noise.putalpha(noise.getchannel("R"))
    noise.save(plain)
    output("convert", plain, "-interlace", "PNG", f"PNG32:{woven}")
    assert woven.read_bytes()[28] == 1  # interlace method, section 11.2.1
    assert (rows_of(woven.read_bytes()) == np.asarray(noise)).all()


def test_cut_off() -> None:
    """A file that ends anywhere gives all its rows or an error, never fewer rows."""
    raw = np.random.default_rng(1).integers(0, 256, (9, 16), np.uint8)
    png = png_of(raw, [4] * 9, 8, 6, pieces=3)
    whole = rows_of(png, 2, 3)
    for end in range(len(png)):
        try:
            found = rows_of(png[:end], 2, 3)
        except NO_PICTURE:
            continue
        assert (found == whole).all()
        assert end > len(png) - 12 - 4 - 12  # without the last check sums nothing is missing
