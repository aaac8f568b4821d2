"""Channels of a PSD, decoded a few rows at a time: each row is what psd-tools makes of it alone."""

from io import BytesIO
from pathlib import Path
from random import Random

import numpy as np
from psd_tools.compression import compress, decompress
from psd_tools.constants import Compression
from support.planes import plane

from guidekit.drawn.composing.runs import bands_of
from guidekit.drawn.psd.planes import Plane
from guidekit.drawn.spans.source import ByteSpan, Source
from guidekit.plane.box import Box

WIDTH, HEIGHT = 23, 150


def odd_rows() -> bytes:
    """A guide, of which some rows have the bytes of the next one too, and some lack their end."""
    random, pixels = Random(6), np.zeros((HEIGHT, WIDTH), np.uint8)
    pixels[20:130, 3:20] = 255
    packed = BytesIO(compress(pixels.tobytes(), Compression.RLE, WIDTH, HEIGHT, 8))
    counts = np.frombuffer(packed.read(2 * HEIGHT), ">u2").tolist()
    rows = [packed.read(count) for count in counts]
    for n in random.sample(range(0, HEIGHT - 1, 2), 20):
        rows[n : n + 2] = [rows[n] + rows[n + 1], b""] if n % 4 else [rows[n][:-2], rows[n + 1]]
    return np.array([len(row) for row in rows], ">u2").tobytes() + b"".join(rows)


def test_rows_of_odd_lengths(tmp_path: Path) -> None:
    """A row that is too long is cut off, one that is too short ends in zeros; none moves another.

    Else a guide from which somebody has erased a row could be taken for one that nobody touched.
    """
    data, path = odd_rows(), tmp_path / "channel"
    path.write_bytes(Compression.RLE.to_bytes(2, "big") + data)
    told = decompress(data, Compression.RLE, WIDTH, HEIGHT, 8)
    wanted = np.frombuffer(told, np.uint8).reshape(HEIGHT, WIDTH)
    with path.open("rb") as file:
        channel = Plane(Source(file), ByteSpan(0, 2 + len(data)), WIDTH, HEIGHT, 8, psb=False)
        assert (channel.rows(0, HEIGHT) == wanted).all()
        bands = bands_of(channel.distinct(), 0, 0)
    assert bands is not None
    assert (plane(bands, Box(0, 0, WIDTH, HEIGHT)) == wanted).all()
