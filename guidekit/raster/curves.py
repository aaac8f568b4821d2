"""Closed lines with curves as straight edges."""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from guidekit.raster.face import Contour

Floats = NDArray[np.float64]
TOLERANCE = 0.05  # pixels: how far an edge may lie from its curve


def edges_of(contours: Iterable[Contour]) -> tuple[Floats, Floats]:
    """Starts and ends of edges along the contours, a row (x, y) each."""
    lines: list[tuple[float, ...]] = []
    curves: list[tuple[float, ...]] = []
    for start, parts in contours:
        here = start
        for part in parts:
            (lines if len(part) == 1 else curves).append(sum((here, *part), ()))
            here = part[-1]
        lines.append((*here, *start))
    straight = np.array(lines, float).reshape(-1, 4)
    starts, ends = _chords(np.array(curves, float).reshape(-1, 4, 2))
    return np.concatenate([straight[:, :2], starts]), np.concatenate([straight[:, 2:], ends])


def _chords(curves: Floats) -> tuple[Floats, Floats]:
    """Cubic Bézier curves, four points each, by as many chords as each needs.

    A chord over 1/n of a curve leaves it by at most a 1/8 n² of its second derivative.
    """
    bend = 6 * np.abs(curves[:, :2] - 2 * curves[:, 1:3] + curves[:, 2:]).sum(axis=2)
    count = np.maximum(np.ceil(np.sqrt(bend.max(axis=1, initial=0) / (8 * TOLERANCE))), 1)
    count = count.astype(np.int64)
    owner = np.repeat(np.arange(len(curves)), count)
    step = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
    return _at(curves[owner], step / count[owner]), _at(curves[owner], (step + 1) / count[owner])


def _at(curves: Floats, t: Floats) -> Floats:
    """The points of curves at shares of their length from 0 to 1."""
    u = 1 - t
    weights = np.stack([u**3, 3 * u * u * t, 3 * u * t * t, t**3], axis=1)
    points: Floats = (weights[:, :, None] * curves).sum(axis=1)
    return points
