"""A small picture of a large one, averaged straight from runs: no full plane is ever made."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

import numpy as np
from numpy.typing import NDArray

from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.raster.bands import Bands, Ints
from guidekit.units import half_up
from guidekit.writers.pixels.rows import BLUE, GREEN, RED

ROWS = 16  # made at a time, to keep memory low

Sums = NDArray[np.float64]


def thumbnail(picture: Sequence[Bands], longest: int) -> NDArray[np.uint8]:
    """Red, green and blue of an opaque picture, (height, width, 3); neither above `longest` pixels.

    The picture comes in strips from the top down. The small one is as large as `longest` allows,
    but never enlarged. Each of its pixels is the mean of the area it stands for, pixels cut by its
    edge in proportion, rounded half up. All sums are whole numbers below 2 to the 53rd, which
    floats hold exactly.
    """
    top, left = picture[0].box.top, picture[0].box.left
    whole = Box(left, top, picture[0].box.right, picture[-1].box.bottom)
    width, height = thumbnail_size(whole.width, whole.height, longest)
    sums = np.zeros((height, width, 3))
    for strip in picture:
        first, part = _strip_sums(strip, whole, width, height)
        sums[first : first + len(part)] += part
    area = whole.width * whole.height  # of a small pixel, in 1 / width × 1 / height of a pixel
    return ((2 * sums.astype(np.int64) + area) // (2 * area)).astype(np.uint8)


def thumbnail_size(width: int, height: int, longest: int) -> tuple[int, int]:
    """Width and height in pixels, at least 1, in the proportions of the picture."""
    long = max(width, height)
    if long <= longest:
        return width, height
    return _shrunk(width, longest, long), _shrunk(height, longest, long)


def _shrunk(edge: int, longest: int, long: int) -> int:
    return max(1, half_up(Fraction(edge * longest, long)))


@remembered
def _strip_sums(strip: Bands, whole: Box, width: int, height: int) -> tuple[int, Sums]:
    """What a strip adds to the rows of small pixels that it reaches; the first of these rows."""
    xs = np.arange(width + 1) * whole.width  # edges of the small pixels, in 1 / width of a pixel
    tops = (strip.tops - whole.top).astype(np.int64) * height
    first, last = int(tops[0]) // whole.height, -(-int(tops[-1]) // whole.height)
    parts = []
    for row in range(first, last, ROWS):
        edges = np.arange(row, min(row + ROWS, last) + 1) * whole.height
        parts.append(_rows(strip, tops, xs, np.clip(edges, tops[0], tops[-1])))
    return first, np.concatenate(parts)


def _rows(picture: Bands, tops: Ints, xs: Ints, ys: Ints) -> Sums:
    """The sums of a few rows of small pixels, whose edges are `ys` in the unit of `tops`."""
    begin = int(np.searchsorted(tops, ys[0], "right")) - 1
    end = int(np.searchsorted(tops, ys[-1]))
    across, ends = _across(picture, begin, end, xs), tops[begin + 1 : end + 1]
    band = np.searchsorted(ends, ys)
    below = (ends[band] - ys)[:, np.newaxis, np.newaxis] * across[band]
    heights = np.diff(tops[begin : end + 1])[:, np.newaxis, np.newaxis]
    sums: Sums = np.diff(np.cumsum(across * heights, axis=0)[band] - below, axis=0)
    return sums


def _across(picture: Bands, begin: int, end: int, xs: Ints) -> Sums:
    """For each band from `begin` to `end` its row summed up from each of `xs` to the next.

    The rows are laid end to end as one long row, of which the sum from its start to any place is
    found in one search. The result has an axis of bands, one of places, one of colours.
    """
    runs = slice(picture.first[begin], picture.first[end])
    lengths = picture.lengths[runs] * (len(xs) - 1)
    ends = np.cumsum(lengths)
    places = np.append(np.add.outer(np.arange(end - begin) * xs[-1], xs[:-1]), ends[-1])
    run = np.minimum(np.searchsorted(ends, places, "right"), len(ends) - 1)
    beyond = ends[run] - places  # what of its run lies behind each place
    between = np.empty((end - begin, len(xs) - 1, 3))
    for colour, shift in enumerate((RED, GREEN, BLUE)):
        values = (picture.values[runs] >> shift & 255).astype(float)
        sums = np.cumsum(values * lengths)[run] - values[run] * beyond
        between[..., colour] = np.diff(sums).reshape(end - begin, -1)
    return between
