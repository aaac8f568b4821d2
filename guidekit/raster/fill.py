"""Boxes and rings as bands of runs: boxes exactly, rings by the exact area of each pixel."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil

import numpy as np

from guidekit.plane.box import Box
from guidekit.plane.polygon import Points, clip_box
from guidekit.raster.bands import EMPTY, Bands, Ints, distinct, from_keys, from_steps
from guidekit.raster.curves import Floats
from guidekit.raster.mix import stacked, strips_of

LONG_WAY = 20_000  # pixels along edges, across and down
LONGEST_WAY = 25 * LONG_WAY  # in one strip: some 100 MB are at work


def fill_boxes(boxes: Ints, canvas: Box) -> Bands:
    """The union of boxes, an array of rows (left, top, right, bottom), inside `canvas`."""
    left, right = np.clip(boxes[:, (0, 2)], canvas.left, canvas.right).T
    top, bottom = np.clip(boxes[:, (1, 3)], canvas.top, canvas.bottom).T
    some = (left < right) & (top < bottom)
    if not some.any():
        return EMPTY
    left, top, right, bottom = left[some], top[some], right[some], bottom[some]
    tops = distinct(np.concatenate([top, bottom]))
    box = Box(int(left.min()), int(tops[0]), int(right.max()), int(tops[-1]))
    begin, end = np.searchsorted(tops, top), np.searchsorted(tops, bottom)
    count = end - begin
    band = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count - begin, count)
    x = np.concatenate([np.repeat(left, count), np.repeat(right, count)])
    steps = np.repeat(np.array([1, -1]), len(band))
    keys, depth = from_steps(box, tops, np.concatenate([band, band]), x, steps)
    return from_keys(box, tops, keys, np.where(depth > 0, 255, 0).astype(np.uint8))


def fill_rings(rings: Sequence[Points], canvas: Box) -> Bands:
    """What rings wind round inside `canvas`, each its corners (x, y) in order.

    Outlines run as the clock does, holes the other way. A pixel's value is 255 times the area of it
    that is covered, rounded half up. Where outlines overlap the areas are added up to 1, which is
    exact unless two slanted edges share a pixel.
    """
    rings = [r for ring in rings if len(r := clip_box(ring, canvas)) > 2]
    if not rings:
        return EMPTY
    start = np.array([point for ring in rings for point in ring], float)
    end = np.array([p for ring in rings for p in (*ring[1:], ring[0])], float)
    low, high = (canvas.left, canvas.top), (canvas.right, canvas.bottom)
    return fill_edges(np.clip(start, low, high), np.clip(end, low, high))  # off by no float noise


def fill_edges(start: Floats, end: Floats) -> Bands:
    """What closed lines wind round, given by the starts and ends of their edges, rows (x, y).

    Lines that lie in others are holes where they run the other way round. Values as above. Many
    long edges are filled a strip at a time, which keeps memory low and the arrays in the
    processor's cache.
    """
    if not len(start):
        return EMPTY
    left, top = np.floor(start.min(axis=0)).astype(int).tolist()
    right, bottom = np.ceil(start.max(axis=0)).astype(int).tolist()
    box = Box(left, top, right, bottom)
    if box.is_empty:
        return EMPTY
    way = np.abs(end - start).sum()
    if way < LONG_WAY:
        return _within_edges(start, end, box).cropped()
    strips = strips_of(box, least=ceil(way / LONGEST_WAY))
    return stacked([_within_edges(*_cut(start, end, s.top, s.bottom), s) for s in strips]).cropped()


def _cut(start: Floats, end: Floats, top: int, bottom: int) -> tuple[Floats, Floats]:
    """The parts of edges between two rows; level edges, which add nothing, are left out."""
    low, high = np.minimum(start[:, 1], end[:, 1]), np.maximum(start[:, 1], end[:, 1])
    here = (low < bottom) & (high > top) & (low < high)
    start, end = start[here], end[here]
    along = end - start
    places = [
        start + along * ((np.clip(at[:, 1], top, bottom) - start[:, 1]) / along[:, 1])[:, None]
        for at in (start, end)
    ]
    return places[0], places[1]


def _within_edges(start: Floats, end: Floats, box: Box) -> Bands:
    """Edges that lie in `box`.

    Every edge is cut where it crosses a pixel border. Each piece adds to its own pixel and to all
    on its right, so that a running sum along the row gives the area, or the area below 0 where
    the edges run the other way round.
    """
    row, column, rise, part = _pieces(start, end)
    here = np.flatnonzero((row >= box.top) & (row < box.bottom))
    row, column, rise = row[here] - box.top, column[here], rise[here]
    beyond = rise * part[here]  # what it leaves of its pixel
    x = np.clip(np.concatenate([column, column + 1]), box.left, box.right)
    tops = np.arange(box.top, box.bottom + 1)
    steps = np.concatenate([rise - beyond, beyond])
    keys, sums = from_steps(box, tops, np.tile(row, 2), x, steps)
    sums = np.minimum(np.abs(np.round(sums, 9)), 1)  # they carry noise in the 15th place
    return from_keys(box, tops, keys, np.floor(sums * 255 + 0.5).astype(np.uint8))


def _pieces(start: Floats, end: Floats) -> tuple[Ints, Ints, Floats, Floats]:
    """Edges cut at every whole y, then at every whole x; level ones, which add nothing, left out.

    For each piece its pixel's row and column, how far it rises, and which part of the pixel lies
    on its left.
    """
    slanted = start[:, 1] != end[:, 1]
    (x, y), (x_end, y_end) = start[slanted].T, end[slanted].T
    slope, sign = (x_end - x) / (y_end - y), np.sign(y - y_end)
    low, high = np.minimum(y, y_end), np.maximum(y, y_end)
    edge, row = _spanned(low, high)
    upper, lower = np.maximum(low[edge], row), np.minimum(high[edge], row + 1)
    rise = (lower - upper) * sign[edge]
    x, y, slope = x[edge], y[edge], slope[edge]
    a, b = x + (upper - y) * slope, x + (lower - y) * slope
    left, right = np.minimum(a, b), np.maximum(a, b)
    strip, column = _spanned(left, right)
    a, b = np.maximum(left[strip], column), np.minimum(right[strip], column + 1)
    width = (right - left)[strip]
    share = np.divide(b - a, width, out=np.ones_like(width), where=width > 0)
    return row[strip], column, rise[strip] * share, (a + b) / 2 - column


def _spanned(low: Floats, high: Floats) -> tuple[Ints, Ints]:
    """The whole numbers n of which [n, n + 1] reaches into each span, and whose span it is."""
    first = np.floor(low).astype(np.int64)
    count = np.maximum(np.ceil(high).astype(np.int64) - first, 1)
    owner = np.repeat(np.arange(len(first)), count)
    return owner, np.arange(len(owner)) - np.repeat(np.cumsum(count) - count - first, count)
