"""Bands of runs: how a layer's coverage is held without a plane of pixels.

A band is a number of equal rows; each row is a list of runs of equal value. A page of guides is a
few hundred bands of a few runs, whatever its resolution. The runs of all bands lie in flat numpy
arrays, so that every operation here is a handful of array operations.

Units: whole canvas pixels, origin at the top left, x to the right, y downward, edges half-open.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from guidekit.plane.box import Box

Ints = NDArray[np.int64]
RunValues = NDArray[Any]


@dataclass(frozen=True, eq=False)
class Bands:
    """An immutable picture of one value per pixel.

    Band i covers the rows ``tops[i]`` to ``tops[i + 1]``; its runs are ``first[i]`` to
    ``first[i + 1]`` in `starts` and `values`. A run reaches to the next one's start, the last of
    a band to `right`; the first run of every band starts at `left`.
    """

    left: int
    right: int
    tops: Ints
    first: Ints
    starts: Ints
    values: RunValues

    @property
    def box(self) -> Box:
        """The rectangle that the bands fill."""
        if not len(self.starts):
            return Box(0, 0, 0, 0)
        return Box(self.left, int(self.tops[0]), self.right, int(self.tops[-1]))

    @property
    def heights(self) -> Ints:
        """Rows in each band."""
        return np.diff(self.tops)

    @property
    def ends(self) -> Ints:
        """Where each run ends."""
        ends = np.empty_like(self.starts)
        ends[:-1] = self.starts[1:]
        ends[self.first[1:] - 1] = self.right
        return ends

    @property
    def lengths(self) -> Ints:
        """Pixels in each run."""
        return self.ends - self.starts

    def with_values(self, values: RunValues) -> Bands:
        """The same runs with other values."""
        return Bands(self.left, self.right, self.tops, self.first, self.starts, values)

    def cropped(self) -> Bands:
        """Without the rows and columns of value 0 around what is there."""
        full = self.values != 0
        if not full.any():
            return EMPTY
        runs = [np.argmax(full), len(full) - 1 - np.argmax(full[::-1])]  # the first and the last
        low, high = np.searchsorted(self.first, runs, "right").tolist()
        return self.within(
            Box(
                int(self.starts[full].min()),
                int(self.tops[low - 1]),
                int(self.ends[full].max()),
                int(self.tops[high]),
            )
        )

    def within(self, box: Box) -> Bands:
        """The part inside `box`, which may not reach beyond the bands."""
        if box == self.box:
            return self
        tops = distinct(np.clip(self.tops, box.top, box.bottom))
        keys, values = keyed(self, tops, box)
        keep = np.append(keys[1:] != keys[:-1], True)
        return from_keys(box, tops, keys[keep], values[keep])

    def mapped(self, table: RunValues) -> Bands:
        """Every value replaced by what stands in its place in `table`."""
        box = self.box
        keys, values = keyed(self, self.tops, box)
        keep = np.append(keys[1:] != keys[:-1], True)
        return from_keys(box, self.tops, keys[keep], table[values[keep]])

    def row(self, y: int) -> list[tuple[int, int]]:
        """The runs of one row as (length, value)."""
        band = int(np.searchsorted(self.tops, y, "right")) - 1
        cut = slice(int(self.first[band]), int(self.first[band + 1]))
        return [*zip(self.lengths[cut].tolist(), self.values[cut].tolist(), strict=True)]


CROWDED = 8  # pixels to a step
_NONE = np.zeros(0, np.int64)
EMPTY = Bands(0, 0, np.zeros(1, np.int64), np.zeros(1, np.int64), _NONE, np.zeros(0, np.uint8))


def filled(box: Box, value: int = 255) -> Bands:
    """One value all over `box`."""
    if box.is_empty:
        return EMPTY
    tops, zero = np.array([box.top, box.bottom]), np.zeros(1, np.int64)
    return Bands(
        box.left, box.right, tops, np.array([0, 1]), zero + box.left, np.array([value], np.uint8)
    )


def distinct(numbers: RunValues) -> RunValues:
    """Each number once, sorted; several times quicker than np.unique, which hashes first."""
    numbers = np.sort(numbers)
    keep = np.ones(len(numbers), bool)
    np.not_equal(numbers[1:], numbers[:-1], out=keep[1:])
    return numbers[keep]


def from_steps(
    box: Box, tops: Ints, bands: Ints, x: Ints, steps: NDArray[Any]
) -> tuple[Ints, NDArray[Any]]:
    """Sum up steps: from `x` on, in its band, the value rises by `steps`.

    Returns the keys (band and x in one number, see `from_keys`) and the value from each on.
    """
    stride = box.width + 1
    begin = np.arange(len(tops) - 1) * stride
    keys = np.concatenate([begin, bands * stride + (x - box.left)])
    steps = np.concatenate([np.zeros(len(begin), steps.dtype), steps])
    if len(keys) * CROWDED > len(begin) * stride:  # to count them takes less than to sort them
        seen = np.zeros(len(begin) * stride, bool)
        seen[keys] = True
        rises = np.bincount(keys, steps).astype(steps.dtype)
        keys = np.flatnonzero(seen)
        return keys, np.cumsum(rises[keys])
    order = np.argsort(keys, kind="stable")
    keys, totals = keys[order], np.cumsum(steps[order])
    last = np.append(keys[1:] != keys[:-1], True)
    return keys[last], totals[last]


def from_keys(box: Box, tops: Ints, keys: Ints, values: RunValues) -> Bands:
    """Bands from sorted keys ``band * (width + 1) + x - left``, tidied: no two equal neighbours.

    Every band has a key at its left edge; a key at its right edge (x - left = width) is dropped.
    """
    stride = box.width + 1
    inside = keys % stride != box.width
    keys, values = keys[inside], values[inside]
    begins = keys % stride == 0
    fresh = begins.copy()
    fresh[1:] |= values[1:] != values[:-1]
    keys, values = keys[fresh], values[fresh]
    band, x = np.divmod(keys, stride)
    first = np.searchsorted(band, np.arange(len(tops)))
    return _merged(box, tops, first, (x + box.left).astype(np.int32), values)


def _merged(box: Box, tops: Ints, first: Ints, starts: Ints, values: RunValues) -> Bands:
    """Bands with equal neighbours made one."""
    counts = np.diff(first)
    same = np.flatnonzero(counts[1:] == counts[:-1]) + 1  # bands that may equal the one above
    if len(same):
        n = counts[same]
        run = np.repeat(first[same] - np.cumsum(n) + n, n) + np.arange(n.sum())
        above = run - np.repeat(n, n)
        equal = (starts[run] == starts[above]) & (values[run] == values[above])
        same = same[np.logical_and.reduceat(equal, np.cumsum(n) - n)]
    if len(same):
        keep = np.ones(len(counts), bool)
        keep[same] = False
        runs = np.repeat(keep, counts)
        starts, values = starts[runs], values[runs]
        tops = np.append(tops[:-1][keep], tops[-1])
        first = np.concatenate([[0], np.cumsum(counts[keep])])
    return Bands(box.left, box.right, tops, first, starts, values)


def keyed(picture: Bands, tops: Ints, box: Box) -> tuple[Ints, RunValues]:
    """The runs of a picture repeated for every band of `tops`, as sorted keys and their values.

    A 0 comes first and one behind the runs of each band, so that there is no need to say where
    the picture is not. Keys may repeat; of equal ones the last counts.
    """
    source = np.searchsorted(picture.tops, tops[:-1], "right") - 1
    here = np.flatnonzero((source >= 0) & (source < len(picture.tops) - 1))
    source, row = source[here], here * (box.width + 1)
    counts = np.diff(picture.first)[source]
    ends = np.cumsum(counts + 1)  # where the 0 behind each band's runs stands
    keys = np.zeros(ends[-1] + 1 if len(here) else 1, np.int64)
    values = np.zeros(len(keys), picture.values.dtype)
    keys[ends] = row + (min(max(picture.right, box.left), box.right) - box.left)
    begins = ends - counts
    run = np.arange(counts.sum())
    place = run + np.repeat(begins - (np.cumsum(counts) - counts), counts)
    run += np.repeat(picture.first[source] - (np.cumsum(counts) - counts), counts)
    x = np.minimum(np.maximum(picture.starts[run] - box.left, 0), box.width)
    keys[place] = np.repeat(row, counts) + x
    values[place] = picture.values[run]
    return keys, values
