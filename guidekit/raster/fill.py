"""Boxes and polygons as bands of runs: boxes exactly, polygons by the exact area of each pixel."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from guidekit.geometry.box import Box
from guidekit.raster.bands import EMPTY, Bands, Ints, distinct, from_keys, from_steps

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


def fill_polygons(polygons: Sequence[Floats], canvas: Box) -> Bands:
    """The union of polygons, each an array of corners (x, y), inside `canvas`.

    A pixel's value is 255 times the area of it that is covered, rounded half up. Every edge is cut
    where it crosses a pixel border; each piece then adds to its own pixel and to all on its right,
    so that a running sum along the row gives the area. Where polygons overlap the sum is cut off
    at 1, which is exact unless two slanted edges share a pixel.
    """
    polygons = [_clipped(polygon, canvas) for polygon in polygons]
    polygons = [polygon for polygon in polygons if len(polygon) > 2]
    if not polygons:
        return EMPTY
    start = np.concatenate(polygons)
    end = np.concatenate([np.roll(polygon, -1, axis=0) for polygon in polygons])
    turn = np.repeat([_turn(polygon) for polygon in polygons], [len(p) for p in polygons])
    low, high = np.floor(start.min(axis=0)).astype(int), np.ceil(start.max(axis=0)).astype(int)
    box = Box(int(low[0]), int(low[1]), int(high[0]), int(high[1])).clipped(canvas)
    if box.is_empty:
        return EMPTY
    a, b, which = _pieces(start, end)
    rise = (b[:, 1] - a[:, 1]) * turn[which]
    middle = (a + b) / 2
    cell = np.floor(middle).astype(np.int64)
    part = middle[:, 0] - cell[:, 0]
    x = np.concatenate([cell[:, 0], cell[:, 0] + 1])
    row = np.tile(cell[:, 1] - box.top, 2)
    steps = np.concatenate([rise * (1 - part), rise * part])
    keep = (row >= 0) & (row < box.height)
    tops = np.arange(box.top, box.bottom + 1)
    x = np.clip(x, box.left, box.right)
    keys, area = from_steps(box, tops, row[keep], x[keep], steps[keep])
    area = np.clip(np.round(area, 9), 0, 1)  # the sums carry noise in the 15th place
    return from_keys(box, tops, keys, np.floor(area * 255 + 0.5).astype(np.uint8)).cropped()


def _turn(polygon: Floats) -> float:
    """1 or −1, so that the area inside comes out positive whichever way the corners run."""
    x, y = polygon.T
    area = np.sum(x * np.roll(y, -1) - np.roll(x, -1) * y)
    return -1.0 if area > 0 else 1.0


def _clipped(polygon: Floats, canvas: Box) -> Floats:
    """The polygon inside `canvas`, cut at one edge after the other (Sutherland and Hodgman)."""
    for axis, limit, sign in (
        (0, canvas.left, 1),
        (0, canvas.right, -1),
        (1, canvas.top, 1),
        (1, canvas.bottom, -1),
    ):
        if len(polygon):
            polygon = cut(polygon, (polygon[:, axis] - limit) * sign)
    return polygon


def cut(polygon: Floats, distance: Floats) -> Floats:
    """The part of a polygon where `distance`, given for each corner, is not negative."""
    inside = distance >= 0
    if inside.all():
        return polygon
    if not inside.any():
        return polygon[:0]
    after, far = np.roll(polygon, -1, axis=0), np.roll(distance, -1)
    corners = []
    for i in range(len(polygon)):
        if inside[i]:
            corners.append(polygon[i])
        if inside[i] != (far[i] >= 0):
            corners.append(
                polygon[i] + (after[i] - polygon[i]) * (distance[i] / (distance[i] - far[i]))
            )
    return np.array(corners)


def _pieces(start: Floats, end: Floats) -> tuple[Floats, Floats, Ints]:
    """Edges cut at every whole x and y: starts and ends of the pieces, and whose they are."""
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
    return point[:-1][same], point[1:][same], owner[1:][same]
