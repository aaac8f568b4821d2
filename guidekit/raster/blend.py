"""Pictures put together: unions and differences of coverage, a stack of colours over paper."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import partial
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from guidekit.memory import remembered
from guidekit.plane.box import Box, around
from guidekit.raster.bands import Bands, RunValues, filled
from guidekit.raster.mix import combined, stacked, strips_of

Colour = tuple[int, int, int]
FEW = 8  # pictures mixed at once


def union(pictures: Sequence[Bands]) -> Bands:
    """The larger value of all at every pixel, over the box that holds them all.

    Many are put together a few at a time: each of those mixed is looked at in every row of all.
    """
    while len(pictures) > FEW:
        few = range(0, len(pictures), FEW)
        pictures = [union(pictures[first : first + FEW]) for first in few]
    box = around(picture.box for picture in pictures)
    return combined(pictures, box, np.maximum.reduce).cropped()


def minus(picture: Bands, *others: Bands) -> Bands:
    """What `picture` covers without others that lie in it, apart from each other."""

    def less(values: list[RunValues]) -> RunValues:
        rest = values[0].astype(np.int32) - np.sum(values[1:], axis=0, dtype=np.int32)
        return np.maximum(rest, 0).astype(np.uint8)

    return combined([picture, *others], picture.box, less).cropped()


def common(picture: Bands, other: Bands) -> Bands:
    """What both cover."""

    def both(values: list[RunValues]) -> RunValues:
        return _bytes_of_255(values[0], values[1])

    return combined([picture, other], picture.box.clipped(other.box), both).cropped()


def differing(picture: Bands, other: Bands) -> Bands:
    """255 wherever one has another value than the other."""

    def apart(values: list[RunValues]) -> RunValues:
        found: RunValues = (values[0] != values[1]) * np.uint8(255)
        return found

    return combined([picture, other], around([picture.box, other.box]), apart).cropped()


class Ink(NamedTuple):
    """A coverage in one colour, red, green and blue 0 to 255; opacity 0 to 255.

    With `multiply` it darkens what lies below (W3C, Compositing and Blending 1, section 9.1.3).
    """

    coverage: Bands
    colour: Colour
    opacity: int = 255
    multiply: bool = False


def flatten(inks: Iterable[Ink], canvas: Box, paper: Colour | None = None) -> Bands:
    """Inks laid on each other, the lowest first, over `paper` or over nothing.

    The values are colours as ``alpha << 24 | red << 16 | green << 8 | blue``, not premultiplied.
    """
    return stacked(flat_strips(inks, canvas, paper))


def flat_strips(inks: Iterable[Ink], canvas: Box, paper: Colour | None = None) -> list[Bands]:
    """The same in strips from the top down.

    Pages of one issue differ little: a strip in which nothing differs is made once.
    """
    inks = list(inks)
    return [
        _flat_strip(
            tuple(ink for ink in inks if not ink.coverage.box.clipped(strip).is_empty), strip, paper
        )
        for strip in strips_of(canvas)
    ]


@remembered
def _flat_strip(inks: tuple[Ink, ...], strip: Box, paper: Colour | None) -> Bands:
    """Inks that reach into a strip, laid on each other.

    One that lies on top and does not leave the strip may be all in which a page differs from
    others, as a line of text does. So the rest is a strip of its own, which they share.
    """
    below = filled(strip, 0).with_values(np.array([_packed(paper)], np.uint32))
    first = len(inks) - 1
    if first > 0 and strip.holds(inks[first].coverage.box):
        below, inks = _flat_strip(inks[:first], strip, paper), inks[first:]
    coverages = [ink.coverage for ink in inks]
    return combined([below, *coverages], strip, partial(_laid, inks, opaque=paper is not None))


def _laid(inks: Sequence[Ink], along: list[RunValues], opaque: bool) -> RunValues:
    """The colours of inks over those below: `along` has these first, then each ink's coverage."""
    below, *coverages = along
    alpha, red, green, blue = ((below >> shift & 255).astype(np.int32) for shift in (24, 16, 8, 0))
    for ink, coverage in zip(inks, coverages, strict=True):
        here = np.flatnonzero(coverage != 0)
        over = _of_255(coverage[here].astype(np.int32) * ink.opacity)
        if opaque:  # the same sums, without the slow divisions
            for channel, value in zip((red, green, blue), ink.colour, strict=True):
                under = channel[here]
                source = _of_255(value * under) if ink.multiply else value
                channel[here] = _of_255(source * over + under * (255 - over))
            continue
        backdrop = alpha[here]
        total = over * 255 + backdrop * (255 - over)  # the new alpha, 255 times as large
        some = np.maximum(total, 1)
        for channel, value in zip((red, green, blue), ink.colour, strict=True):
            under = channel[here]
            source = value
            if ink.multiply:
                source = _of_255(value * (255 - backdrop) + backdrop * _of_255(value * under))
            sum_ = source * over * 255 + under * backdrop * (255 - over)
            channel[here] = (2 * sum_ + some) // (2 * some)
        alpha[here] = _of_255(total)
    return alpha.astype(np.uint32) << 24 | (red << 16 | green << 8 | blue).astype(np.uint32)


def _packed(paper: Colour | None) -> int:
    """A paper's colour as `flatten` has it; 0 for none."""
    if paper is None:
        return 0
    red, green, blue = paper
    return 255 << 24 | red << 16 | green << 8 | blue


def _of_255(product: NDArray[np.int32]) -> NDArray[np.int32]:
    """The product of two values of which 255 means 1, rounded half up."""
    return (2 * product + 255) // 510


def _bytes_of_255(a: RunValues, b: RunValues) -> RunValues:
    """The product of two coverages."""
    return _of_255(a.astype(np.int32) * b.astype(np.int32)).astype(np.uint8)
