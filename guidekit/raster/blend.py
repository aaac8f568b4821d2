"""Pictures put together: unions and differences of coverage, a stack of colours over paper."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from guidekit.geometry.box import Box, around
from guidekit.raster.bands import EMPTY, Bands, align, rebuilt

Colour = tuple[int, int, int]


def union(pictures: Sequence[Bands]) -> Bands:
    """The larger value of all at every pixel, over the box that holds them all."""
    box = around(picture.box for picture in pictures)
    if box.is_empty:
        return EMPTY
    tops, keys, values = align(pictures, box)
    return rebuilt(box, tops, keys, np.maximum.reduce(values)).cropped()


def minus(picture: Bands, other: Bands) -> Bands:
    """What `picture` covers and `other` does not."""
    tops, keys, (value, less) = align([picture, other], picture.box)
    left = _of_255(value.astype(np.int32) * (255 - less.astype(np.int32)))
    return rebuilt(picture.box, tops, keys, left.astype(np.uint8)).cropped()


def common(picture: Bands, other: Bands) -> Bands:
    """What both cover."""
    box = picture.box.clipped(other.box)
    tops, keys, (value, more) = align([picture, other], box)
    both = _of_255(value.astype(np.int32) * more.astype(np.int32))
    return rebuilt(box, tops, keys, both.astype(np.uint8)).cropped()


class Ink(NamedTuple):
    """A coverage in one colour, red, green and blue 0 to 255; opacity 0 to 255."""

    coverage: Bands
    colour: Colour
    opacity: int = 255


def flatten(inks: Iterable[Ink], canvas: Box, paper: Colour | None = None) -> Bands:
    """Inks laid on each other, the lowest first, over `paper` or over nothing.

    The values are colours as ``alpha << 24 | red << 16 | green << 8 | blue``, not premultiplied.
    """
    inks = list(inks)
    tops, keys, coverages = align([ink.coverage for ink in inks], canvas)
    red, green, blue = (np.full(len(keys), c, np.int32) for c in paper or (0, 0, 0))
    alpha = np.full(len(keys), 255 if paper else 0, np.int32)
    for ink, coverage in zip(inks, coverages, strict=True):
        here = np.flatnonzero(coverage)
        over = _of_255(coverage[here].astype(np.int32) * ink.opacity)
        under = alpha[here]
        total = over * 255 + under * (255 - over)  # the new alpha, 255 times as large
        some = np.maximum(total, 1)
        for channel, value in zip((red, green, blue), ink.colour, strict=True):
            mixed = value * over * 255 + channel[here] * under * (255 - over)
            channel[here] = (2 * mixed + some) // (2 * some)
        alpha[here] = _of_255(total)
    packed = alpha.astype(np.uint32) << 24 | (red << 16 | green << 8 | blue).astype(np.uint32)
    return rebuilt(canvas, tops, keys, packed)


def _of_255(product: NDArray[np.int32]) -> NDArray[np.int32]:
    """The product of two values of which 255 means 1, rounded half up."""
    return (2 * product + 255) // 510
