"""PackBits rows made from runs: what any decoder makes of them, and how short they are."""

from dataclasses import replace
from unittest.mock import patch

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from psd_tools.compression import decode_rle
from support.psd_walk import unpacked

from guidekit.raster.bands import Bands
from guidekit.raster.mix import stacked
from guidekit.writers.psd import packbits
from guidekit.writers.psd.packbits import packed_planes, wide_counts

Runs = list[tuple[int, int]]  # (length, value)


def one_band(runs: Runs, height: int = 1, left: int = 0) -> Bands:
    """So many equal rows of these runs."""
    lengths, values = (np.array(column) for column in zip(*runs, strict=True))
    starts = left + np.cumsum(lengths) - lengths
    return Bands(
        left,
        left + int(lengths.sum()),
        np.array([0, height]),
        np.array([0, len(runs)]),
        starts,
        values.astype(np.uint8),
    )


def packed(bands: Bands, width: int = 1) -> tuple[list[int], bytes]:
    """The lengths of the rows, and the rows."""
    ((counts, rows),) = packed_planes(bands, [bands.values], width)
    return np.frombuffer(counts, ">u2").tolist(), rows


def row_of(runs: Runs) -> bytes:
    """The row as plain bytes."""
    return b"".join(bytes([value]) * length for length, value in runs)


lengths = (
    st.integers(1, 5)
    | st.sampled_from([63, 64, 127, 128, 129, 255, 256, 257])
    | st.integers(1, 900)
)
runs = st.lists(st.tuples(lengths, st.integers(0, 255)), min_size=1, max_size=12)


@given(runs, st.integers(1, 70))
def test_three_decoders(some: Runs, height: int) -> None:
    """Our own decoder after TIFF 6.0, Pillow's and psd-tools' all give the row back."""
    counts, rows = packed(one_band(some, height))
    row = row_of(some)
    assert counts == [len(rows) // height] * height
    assert unpacked(rows) == row * height
    size = (len(row), height)
    assert Image.frombytes("L", size, rows, "packbits", "L").tobytes() == row * height
    counted = np.array(counts, ">u2").tobytes()
    assert decode_rle(counted + rows, len(row), height, 8, 1) == row * height


@given(st.lists(st.tuples(runs, st.integers(1, 9)), min_size=1, max_size=5))
def test_several_bands(bands: list[tuple[Runs, int]]) -> None:
    """Rows come in order, each as often as its band is tall, whatever the bands before it hold."""
    width = min(sum(length for length, _ in some) for some, _ in bands)
    cut = [np.frombuffer(row_of(some)[:width], np.uint8) for some, _ in bands]
    begins = [np.append(0, np.flatnonzero(row[1:] != row[:-1]) + 1) for row in cut]
    picture = Bands(
        0,
        width,
        np.append(0, np.cumsum([height for _, height in bands])),
        np.append(0, np.cumsum([len(places) for places in begins])),
        np.concatenate(begins),
        np.concatenate([row[places] for row, places in zip(cut, begins, strict=True)]),
    )
    counts, rows = packed(picture)
    found, at = [], 0
    for count in counts:
        found.append(unpacked(rows[at : at + count]))
        at += count
    assert at == len(rows)
    tall = [height for _, height in bands]
    assert found == [row.tobytes() for row, n in zip(cut, tall, strict=True) for _ in range(n)]


def test_bytes_and_their_meaning() -> None:
    """A row of 200, 1 and 99 equal bytes, byte by byte, by TIFF 6.0, section 9."""
    meaning = [
        (129, "−127: the next byte 128 times"), (255, "200 = 128 + 72"),
        (185, "−71: the next byte 72 times"), (255, "the rest of the 200"),
        (0, "one byte as it is"), (7, "the 1"),
        (158, "−98: the next byte 99 times"), (0, "the 99"),
    ]  # fmt: skip
    counts, rows = packed(one_band([(200, 255), (1, 7), (99, 0)]))
    assert [*rows] == [byte for byte, _ in meaning]
    assert counts == [len(meaning)]


@pytest.mark.parametrize("width", [1, 2, 127, 128, 129, 256, 257, 4125, 30_000])
def test_length_of_even_rows(width: int) -> None:
    """A row of one value takes two bytes for every 128 pixels begun."""
    counts, rows = packed(one_band([(width, 255)], height=3))
    assert counts == [2 * -(-width // 128)] * 3
    assert len(rows) == sum(counts)


@given(runs)
def test_no_header_without_meaning(some: Runs) -> None:
    """The header byte 128, which decoders treat differently, is never written."""
    _, rows = packed(one_band(some))
    assert 128 not in rows[0::2]  # all packets made from runs are two bytes long


@given(runs)
def test_sixteen_bits(some: Runs) -> None:
    """With two bytes a pixel, each value v is written as v × 257, the same in 16 bits."""
    _, rows = packed(one_band(some), width=2)
    wide = np.frombuffer(unpacked(rows), ">u2")
    assert wide.tolist() == [value * 257 for length, value in some for _ in range(length)]


def test_planes_share_their_runs() -> None:
    """Several planes over the same runs give rows of the same lengths, each with its values."""
    bands = one_band([(3, 1), (200, 2)], height=2, left=40)
    planes = packed_planes(bands, [np.array([9, 8], np.uint8), np.array([5, 6], np.uint8)])
    assert planes[0][0] == planes[1][0]
    assert [unpacked(rows) for _, rows in planes] == [
        (bytes([9]) * 3 + bytes([8]) * 200) * 2,
        (bytes([5]) * 3 + bytes([6]) * 200) * 2,
    ]


@given(st.lists(st.tuples(runs, st.integers(1, 5)), min_size=1, max_size=6), st.integers(1, 9))
def test_in_parts(bands: list[tuple[Runs, int]], most: int) -> None:
    """Bands of many runs are packed a part at a time, and each row is what it is alone."""
    width = min(sum(length for length, _ in some) for some, _ in bands)
    tops = np.cumsum([0, *(height for _, height in bands)])
    drawn = [
        replace(one_band(cut_to(some, width), height), tops=tops[number : number + 2])
        for number, (some, height) in enumerate(bands)
    ]
    with patch.object(packbits, "MANY_RUNS", most):
        counts, rows = packed(stacked(drawn))
    alone = [packed(band) for band in drawn]
    assert counts == [count for one, _ in alone for count in one]
    assert rows == b"".join(one for _, one in alone)


def cut_to(some: Runs, width: int) -> Runs:
    """The runs of the first `width` pixels."""
    ends = np.cumsum([length for length, _ in some]).tolist()
    return [
        (min(end, width) - (end - length), value)
        for (length, value), end in zip(some, ends, strict=True)
        if end - length < width
    ]


def test_wide_counts() -> None:
    """PSB has the same row lengths in four bytes each."""
    assert wide_counts(b"\x00\x42\xea\x60") == b"\x00\x00\x00\x42\x00\x00\xea\x60"


@pytest.mark.parametrize(
    ("packed_bytes", "plain"),
    [
        (b"\x00A", b"A"),
        (b"\x02ABC", b"ABC"),
        (b"\xffA", b"AA"),
        (b"\x81A", b"A" * 128),
        (b"\x80\x00A", b"A"),  # −128 says nothing
    ],
)
def test_our_decoder(packed_bytes: bytes, plain: bytes) -> None:
    """The decoder that these tests trust does what TIFF 6.0, section 9, says, and Pillow agrees."""
    assert unpacked(packed_bytes) == plain
    picture = Image.frombytes("L", (len(plain), 1), packed_bytes, "packbits", "L")
    assert picture.tobytes() == plain
