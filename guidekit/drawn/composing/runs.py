"""From pixels to runs and back, a few rows at a time."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from guidekit.plane.box import Box
from guidekit.raster.bands import EMPTY, Bands

MOST_RUNS = 4_000_000  # what a guide has at most is a tenth; a painted layer has any number
ROWS = 64  # rows looked at a time

Pixels = NDArray[Any]


class DistinctRows(NamedTuple):
    """Some rows of a picture, and for how many alike ones under each other each stands."""

    pixels: Pixels
    heights: NDArray[np.int64]

    @classmethod
    def of(cls, pixels: Pixels) -> DistinctRows:
        """Each for itself."""
        return cls(pixels, np.ones(len(pixels), np.int64))


def bands_of(strips: Iterable[DistinctRows], left: int, top: int) -> Bands | None:
    """Rows of 8-bit values from the top down as bands; None where they are no ruled lines or words.

    `left` and `top` are where the first pixel lies on the canvas.
    """
    tops: list[Any] = []
    counts: list[Any] = []
    starts: list[Any] = []
    values: list[Any] = []
    above: Pixels | None = None
    y, runs, width = top, 0, 0
    for strip, heights in strips:
        width = strip.shape[1]
        fresh = np.ones(len(strip), bool)
        fresh[1:] = (strip[1:] != strip[:-1]).any(axis=1)
        if above is not None:
            fresh[0] = bool((strip[0] != above).any())
        above = strip[-1]
        rows = strip[fresh]
        begins = np.ones(rows.shape, bool)
        np.not_equal(rows[:, 1:], rows[:, :-1], out=begins[:, 1:])
        place = np.flatnonzero(begins)  # many times as quick as np.nonzero for two axes
        row, column = np.divmod(place, width)
        ends = np.cumsum(heights)
        tops.append((ends - heights)[fresh] + y)
        counts.append(np.bincount(row, minlength=len(rows)))
        starts.append(column + left)
        values.append(rows.ravel()[place])
        y += int(ends[-1])
        runs += len(column)
        if runs > MOST_RUNS:
            return None
    if not width or y == top:
        return EMPTY
    return Bands(
        left,
        left + width,
        np.append(np.concatenate(tops), y),
        np.concatenate([[0], np.cumsum(np.concatenate(counts))]),
        np.concatenate(starts).astype(np.int32),
        np.concatenate(values),
    )


def pixels_of(bands: Bands, box: Box) -> Pixels:
    """Every value in a box of a few rows, (height, width); 0 where the bands are not."""
    found = np.zeros((box.height, box.width), np.uint8)
    inside = bands.box.clipped(box)
    if inside.is_empty:
        return found
    part = bands.within(inside)
    rows = np.repeat(part.values, part.lengths).reshape(len(part.heights), inside.width)
    y, x = inside.top - box.top, inside.left - box.left
    found[y : y + inside.height, x : x + inside.width] = np.repeat(rows, part.heights, axis=0)
    return found
