"""Boxes and polygons as bands of runs: boxes exactly, polygons by the exact area of each pixel."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from guidekit.plane.box import Box
from guidekit.plane.polygon import Points, area, clip_box
from guidekit.raster.bands import EMPTY, Bands, Ints, distinct, filled, from_keys, from_steps
from guidekit.raster.mix import stacked, strips_of

MANY_ROWS = 40_000
Floats = NDArray[np.float64]


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


def fill_polygons(polygons: Sequence[Points], canvas: Box) -> Bands:
    """The union of polygons, each its corners (x, y) in order, inside `canvas`.

    A pixel's value is 255 times the area of it that is covered, rounded half up. Where polygons
    overlap the areas are added up to 1, which is exact unless two slanted edges share a pixel.
    Many long edges are filled a strip at a time, which keeps memory low.
    """
    polygons = [p for polygon in polygons if len(p := clip_box(polygon, canvas)) > 2]
    if not polygons:
        return EMPTY
    box = _around(polygons).clipped(canvas)
    if box.is_empty:  # corners in a line
        return EMPTY
    rows = sum(_around([polygon]).height for polygon in polygons)
    if rows < MANY_ROWS:
        return _filled(polygons, box).cropped()
    parts = []
    for strip in strips_of(box):
        here = (clip_box(polygon, strip) for polygon in polygons)
        parts.append(_filled([polygon for polygon in here if len(polygon) > 2], strip))
    return stacked(parts).cropped()


def _around(polygons: Sequence[Points]) -> Box:
    xs = [x for polygon in polygons for x, _ in polygon]
    ys = [y for polygon in polygons for _, y in polygon]
    return Box(floor(min(xs)), floor(min(ys)), ceil(max(xs)), ceil(max(ys)))


def _filled(polygons: Sequence[Points], box: Box) -> Bands:
    """Polygons that lie in `box`, whichever way their corners run."""
    if not polygons:
        return filled(box, 0)
    start = np.array([point for polygon in polygons for point in polygon], float)
    end = np.array([p for polygon in polygons for p in (*polygon[1:], polygon[0])], float)
    back = np.repeat([area(polygon) < 0 for polygon in polygons], [len(p) for p in polygons])
    start[back], end[back] = end[back], start[back]
    return _within_edges(start, end, box)


def fill_edges(start: Floats, end: Floats) -> Bands:
    """What closed lines wind round, given by the starts and ends of their edges, rows (x, y).

    Lines that lie in others are holes where they run the other way round. Values as above.
    """
    if not len(start):
        return EMPTY
    left, top = np.floor(start.min(axis=0)).astype(int).tolist()
    right, bottom = np.ceil(start.max(axis=0)).astype(int).tolist()
    box = Box(left, top, right, bottom)
    if box.is_empty:
        return EMPTY
    if np.abs(end - start).sum() < MANY_ROWS:
        return _within_edges(start, end, box).cropped()
    strips = strips_of(box)
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
    a, b = _pieces(start, end)
    rise = a[:, 1] - b[:, 1]
    middle = (a + b) / 2
    cell = np.floor(middle).astype(np.int64)
    part = middle[:, 0] - cell[:, 0]
    x = np.concatenate([cell[:, 0], cell[:, 0] + 1])
    row = np.tile(cell[:, 1] - box.top, 2)
    steps = np.concatenate([rise * (1 - part), rise * part])
    keep = (row >= 0) & (row < box.height)
    tops = np.arange(box.top, box.bottom + 1)
    x = np.clip(x, box.left, box.right)
    keys, sums = from_steps(box, tops, row[keep], x[keep], steps[keep])
    sums = np.minimum(np.abs(np.round(sums, 9)), 1)  # they carry noise in the 15th place
    return from_keys(box, tops, keys, np.floor(sums * 255 + 0.5).astype(np.uint8))


def _pieces(start: Floats, end: Floats) -> tuple[Floats, Floats]:
    """Edges cut at every whole x and y: starts and ends of the pieces."""
    edges = np.arange(len(start))
    owners, places = [edges, edges], [np.zeros(len(start)), np.ones(len(start))]
    for axis in (0, 1):
        a, b = start[:, axis], end[:, axis]
        low, high = np.minimum(a, b), np.maximum(a, b)
        first = np.floor(low) + 1
        count = np.maximum(np.ceil(high) - first, 0).astype(np.int64)
        owner = np.repeat(edges, count)
        line = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count) + first[owner]
        owners.append(owner)
        places.append((line - a[owner]) / (b - a)[owner])
    owner, place = np.concatenate(owners), np.concatenate(places)
    order = np.lexsort((place, owner))
    owner, place = owner[order], place[order]
    point = start[owner] + (end - start)[owner] * place[:, None]
    same = owner[1:] == owner[:-1]
    return point[:-1][same], point[1:][same]
