"""Rows of pixels straight from runs, as what changes from one pixel to the next.

Two standards store rows so: PNG's filter type Sub (third edition, section 9.2) and TIFF's
horizontal differencing (TIFF 6.0, section 14). A run is then one change and zeros, and a row needs
no more work than it has runs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from guidekit.raster.bands import Bands, Ints
from guidekit.writers.pixels.deflate import Packed, Packer

RED, GREEN, BLUE, ALPHA = 16, 8, 0, 24  # where `raster.blend.flatten` packs them, in bits
CHUNK_BYTES = 1 << 20  # rows are made so many at a time, to stay in the processor's cache


def channels(colours: NDArray[Any], shifts: Sequence[int]) -> NDArray[np.uint8]:
    """Packed colours as samples: one row a colour, one column for each of `shifts`."""
    return np.stack([colours >> shift & 255 for shift in shifts], axis=1).astype(np.uint8)


def packed_rows(
    picture: Bands, samples: NDArray[Any], lead: Sequence[int] = ()
) -> Iterator[Packed]:
    """The row of every band, from the top, as `deltas` gives it; equal rows are one piece."""
    numbers = row_numbers(picture)
    fresh = _fresh_rows(picture, samples, np.unique(numbers, return_index=True)[1], lead)
    packer = Packer()
    pieces: list[Packed] = []
    for number in numbers:
        if number == len(pieces):
            pieces.append(packer.pack(next(fresh)))
        yield pieces[number]


def row_numbers(picture: Bands) -> list[int]:
    """A number for each band's row, counted from the top; equal rows have the same."""
    # a run in one number: values are of 32 bits at most
    runs = (picture.starts - picture.left).astype(np.uint64) << 32 | picture.values
    keys, first = runs.tobytes(), (picture.first * runs.itemsize).tolist()
    numbers: dict[bytes, int] = {}
    return [numbers.setdefault(keys[a:b], len(numbers)) for a, b in pairwise(first)]


def _fresh_rows(
    picture: Bands, samples: NDArray[Any], bands: Ints, lead: Sequence[int]
) -> Iterator[bytes]:
    """The rows of some bands, made a few at a time: a whole plane of them is never there."""
    width = (picture.right - picture.left) * samples.shape[1] * samples.itemsize
    step = max(1, CHUNK_BYTES // width)
    for begin in range(0, len(bands), step):
        for row in deltas(picture, samples, bands[begin : begin + step], lead):
            yield row.tobytes()


def deltas(
    picture: Bands, samples: NDArray[Any], bands: Ints, lead: Sequence[int] = ()
) -> NDArray[Any]:
    """One row for each of `bands`: every sample less the one a pixel before it, modulo its range.

    `samples` has a row for each run and a column for each channel. `lead` stands as it is at the
    start of every row.
    """
    counts = np.diff(picture.first)[bands]
    runs = _ranges(picture.first[bands], counts)
    steps = samples[runs]
    steps[1:] -= samples[runs[:-1]]
    begins = np.cumsum(counts) - counts
    steps[begins] = samples[picture.first[bands]]  # the first pixel has none before it
    depth = samples.shape[1]
    width = len(lead) + (picture.right - picture.left) * depth
    rows = np.zeros((len(bands), width), samples.dtype)
    rows[:, : len(lead)] = lead
    place = len(lead) + (picture.starts[runs] - picture.left) * depth
    place += np.repeat(np.arange(len(bands)) * width, counts)
    flat = rows.reshape(-1)
    for channel in range(depth):
        flat[place + channel] = steps[:, channel]
    return rows


def _ranges(begins: Ints, counts: Ints) -> Ints:
    """Each begin and the numbers after it, as many as its count, one after the other."""
    return np.repeat(begins - np.cumsum(counts) + counts, counts) + np.arange(counts.sum())
