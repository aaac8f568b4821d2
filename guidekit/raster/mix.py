"""Several pictures mixed into one, run by run: the common cuts of all, found by sorting.

A key is band × (width + 1) + x in one number, so that all runs of a picture are one sorted list.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from guidekit.plane.box import Box
from guidekit.raster.bands import EMPTY, Bands, Ints, RunValues, distinct, from_keys, keyed

STRIP = 512  # rows
MANY_RUNS = 50_000


def combined(
    pictures: Sequence[Bands], box: Box, mix: Callable[[list[RunValues]], RunValues]
) -> Bands:
    """A picture of `box` that has, at every pixel, the `mix` of what others have there.

    `mix` gets an array of values for each picture, all cut along the same runs, with 0 where a
    picture has nothing. Pictures of many runs are mixed a strip at a time, which keeps memory low
    and the arrays in the processor's cache.
    """
    if box.is_empty:
        return EMPTY
    many = sum(len(picture.starts) for picture in pictures) > MANY_RUNS
    return stacked([_mixed(pictures, strip, mix) for strip in (strips_of(box) if many else [box])])


def _mixed(
    pictures: Sequence[Bands], box: Box, mix: Callable[[list[RunValues]], RunValues]
) -> Bands:
    edges = [np.array([box.top, box.bottom])]
    edges += [np.clip(picture.tops, box.top, box.bottom) for picture in pictures]
    tops = distinct(np.concatenate(edges))
    parts = [keyed(picture, tops, box) for picture in pictures]
    begins = np.arange(len(tops) - 1) * (box.width + 1)
    keys, places = _merge([begins, *(keys for keys, _ in parts)])
    along = [
        np.repeat(values, np.diff(place, append=len(keys)))  # each until its picture's next key
        for (_, values), place in zip(parts, places[1:], strict=True)
    ]
    return from_keys(box, tops, keys, mix(along))


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


def strips_of(box: Box, least: int = 1) -> list[Box]:
    """A box in strips of `STRIP` rows, the same for every page of one size.

    They are of fewer rows where there shall be at `least` so many.
    """
    rows = min(STRIP, -(-box.height // least))
    edges = [*range(box.top, box.bottom, rows), box.bottom]
    return [Box(box.left, top, box.right, bottom) for top, bottom in pairwise(edges)]


def stacked(strips: Sequence[Bands]) -> Bands:
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
