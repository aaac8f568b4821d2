"""Bands of runs: how a layer's coverage is held without a plane of pixels.

A band is a number of equal rows; each row is a list of runs of equal value. A page of guides is a
few hundred bands of a few runs, whatever its resolution. The runs of all bands lie in flat numpy
arrays, so that every operation here is a handful of array operations.

Units: whole canvas pixels, origin at the top left, x to the right, y downward, edges half-open.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Any

import numpy as np
from numpy.typing import NDArray

from guidekit.geometry.box import Box

Ints = NDArray[np.int64]
Values = NDArray[Any]


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
    values: Values

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
    def lengths(self) -> Ints:
        """Pixels in each run."""
        ends = np.append(self.starts[1:], self.right)
        ends[self.first[1:] - 1] = self.right
        return ends - self.starts

    def with_values(self, values: Values) -> Bands:
        """The same runs with other values."""
        return Bands(self.left, self.right, self.tops, self.first, self.starts, values)

    def cropped(self) -> Bands:
        """Without the rows and columns of value 0 around what is there."""
        full = np.flatnonzero(self.values != 0)
        if not len(full):
            return EMPTY
        band = np.searchsorted(self.first, full, "right") - 1
        low, high = int(band[0]), int(band[-1]) + 1
        ends = self.starts + self.lengths
        return self.within(
            Box(
                int(self.starts[full].min()),
                int(self.tops[low]),
                int(ends[full].max()),
                int(self.tops[high]),
            )
        )

    def within(self, box: Box) -> Bands:
        """The part inside `box`, which may not reach beyond the bands."""
        if box == self.box:
            return self
        tops = distinct(np.clip(self.tops, box.top, box.bottom))
        keys, values = _keyed(self, tops, box)
        keep = np.append(keys[1:] != keys[:-1], True)
        return _from_keys(box, tops, keys[keep], values[keep])

    def row(self, y: int) -> list[tuple[int, int]]:
        """The runs of one row as (length, value)."""
        band = int(np.searchsorted(self.tops, y, "right")) - 1
        cut = slice(int(self.first[band]), int(self.first[band + 1]))
        return [*zip(self.lengths[cut].tolist(), self.values[cut].tolist(), strict=True)]


STRIP_RUNS = 50_000
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


def distinct(numbers: Values) -> Values:
    """Each number once, sorted; several times quicker than np.unique, which hashes first."""
    numbers = np.sort(numbers)
    keep = np.ones(len(numbers), bool)
    np.not_equal(numbers[1:], numbers[:-1], out=keep[1:])
    return numbers[keep]


def from_steps(
    box: Box, tops: Ints, bands: Ints, x: Ints, steps: NDArray[Any]
) -> tuple[Ints, NDArray[Any]]:
    """Sum up steps: from `x` on, in its band, the value rises by `steps`.

    Returns the keys (band and x in one number, see `_from_keys`) and the value from each on.
    """
    stride = box.width + 1
    begin = np.arange(len(tops) - 1) * stride
    keys = np.concatenate([begin, bands * stride + (x - box.left)])
    steps = np.concatenate([np.zeros(len(begin), steps.dtype), steps])
    order = np.argsort(keys, kind="stable")
    keys, totals = keys[order], np.cumsum(steps[order])
    last = np.append(keys[1:] != keys[:-1], True)
    return keys[last], totals[last]


def _from_keys(box: Box, tops: Ints, keys: Ints, values: Values) -> Bands:
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
    return _merged(box, tops, first, x + box.left, values)


def _merged(box: Box, tops: Ints, first: Ints, starts: Ints, values: Values) -> Bands:
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


def combined(pictures: Sequence[Bands], box: Box, mix: Callable[[list[Values]], Values]) -> Bands:
    """A picture of `box` that has, at every pixel, the `mix` of what others have there.

    `mix` gets an array of values for each picture, all cut along the same runs, with 0 where a
    picture has nothing. Pictures of many runs are mixed a strip at a time, which keeps memory low
    and the arrays in the processor's cache.
    """
    if box.is_empty:
        return EMPTY
    return _stacked([_mixed(pictures, strip, mix) for strip in _strips(pictures, box)])


def _mixed(pictures: Sequence[Bands], box: Box, mix: Callable[[list[Values]], Values]) -> Bands:
    edges = [np.array([box.top, box.bottom])]
    edges += [np.clip(picture.tops, box.top, box.bottom) for picture in pictures]
    tops = distinct(np.concatenate(edges))
    parts = [_keyed(picture, tops, box) for picture in pictures]
    begins = np.arange(len(tops) - 1) * (box.width + 1)
    keys, places = _merge([begins, *(keys for keys, _ in parts)])
    spread = [
        np.repeat(values, np.diff(place, append=len(keys)))  # each until its picture's next key
        for (_, values), place in zip(parts, places[1:], strict=True)
    ]
    return _from_keys(box, tops, keys, mix(spread))


def _merge(lists: Sequence[Ints]) -> tuple[Ints, list[Ints]]:
    """Sorted lists as one without repeats, and for each list where its members stand in it."""
    joined = np.concatenate(lists)
    order = np.argsort(joined, kind="stable")  # quick, for the lists are sorted already
    joined = joined[order]
    fresh = np.ones(len(joined), bool)
    np.not_equal(joined[1:], joined[:-1], out=fresh[1:])
    place = np.empty(len(joined), np.int64)
    place[order] = np.cumsum(fresh) - 1
    return joined[fresh], np.split(place, np.cumsum([len(own) for own in lists[:-1]]))


def _strips(pictures: Sequence[Bands], box: Box) -> list[Box]:
    """`box` in strips of about `STRIP_RUNS` runs each, cut by the picture that has most."""
    runs = sum(len(picture.starts) for picture in pictures)
    if runs <= STRIP_RUNS:
        return [box]
    most = max(pictures, key=lambda picture: len(picture.starts))
    wanted = np.linspace(0, len(most.starts), runs // STRIP_RUNS + 2)[1:-1]
    cuts = most.tops[np.searchsorted(most.first, wanted)].tolist()
    edges = sorted({box.top, box.bottom, *(cut for cut in cuts if box.top < cut < box.bottom)})
    return [Box(box.left, top, box.right, bottom) for top, bottom in pairwise(edges)]


def _stacked(strips: Sequence[Bands]) -> Bands:
    """Strips under each other as one picture; bands that are equal across a seam become one."""
    if len(strips) == 1:
        return strips[0]
    joined = [strips[0]]
    for strip in strips[1:]:
        above, end = joined[-1], int(strip.first[1])
        begin = int(above.first[-2])
        same = np.array_equal(above.starts[begin:], strip.starts[:end]) and np.array_equal(
            above.values[begin:], strip.values[:end]
        )
        cut = 1 if same else 0
        runs = int(strip.first[cut])
        if same:
            tops = np.append(above.tops[:-1], strip.tops[1])
            joined[-1] = replace(above, tops=tops)
        if cut < len(strip.heights):
            joined.append(
                replace(
                    strip,
                    tops=strip.tops[cut:],
                    first=strip.first[cut:] - runs,
                    starts=strip.starts[runs:],
                    values=strip.values[runs:],
                )
            )
    counts = np.cumsum([0] + [len(part.starts) for part in joined])
    return Bands(
        strips[0].left,
        strips[0].right,
        np.concatenate([*(part.tops[:-1] for part in joined), joined[-1].tops[-1:]]),
        np.concatenate(
            [*(p.first[:-1] + n for p, n in zip(joined, counts, strict=False)), counts[-1:]]
        ),
        np.concatenate([part.starts for part in joined]),
        np.concatenate([part.values for part in joined]),
    )


def rebuilt(box: Box, tops: Ints, keys: Ints, values: Values) -> Bands:
    """Bands of the values that `from_steps` gave for `box`."""
    return _from_keys(box, tops, keys, values)


def _keyed(picture: Bands, tops: Ints, box: Box) -> tuple[Ints, Values]:
    """The runs of a picture repeated for every band of `tops`, as sorted keys and their values.

    Keys may repeat; of equal ones the last counts.
    """
    stride = box.width + 1
    bands = len(tops) - 1
    source = np.searchsorted(picture.tops, tops[:-1], "right") - 1
    here = (source >= 0) & (source < len(picture.tops) - 1)
    source = np.where(here, source, 0)
    counts = np.where(here, np.diff(picture.first)[source], 0) if len(picture.starts) else here * 0
    total = counts + 2  # a 0 at the left edge of the box, the runs, a 0 behind the last
    offset = np.cumsum(total) - total
    keys = np.empty(int(total.sum()), np.int64)
    values = np.zeros(len(keys), picture.values.dtype)
    row = np.arange(bands) * stride
    keys[offset] = row
    end = min(max(picture.right, box.left), box.right) - box.left
    keys[offset + counts + 1] = row + np.where(counts, end, 0)
    if counts.any():
        within = np.arange(counts.sum()) - np.repeat(np.cumsum(counts) - counts, counts)
        run = np.repeat(picture.first[source], counts) + within
        place = np.repeat(offset + 1, counts) + within
        x = np.clip(picture.starts[run], box.left, box.right) - box.left
        keys[place] = np.repeat(row, counts) + x
        values[place] = picture.values[run]
    return keys, values
