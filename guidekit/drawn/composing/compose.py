"""Layers laid on each other, a few rows at a time: what a file shows.

W3C, Compositing and Blending 1: the modes of section 9.1, the formula of section 5. A file of
another program rounds after each layer or not at all, so that two of them differ by a step of 255.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float32]
ROWS = 16  # rows laid at a time: they stay in the processor's cache


class UnknownError(Exception):
    """Something in a layer of which nobody can say exactly how it looks; its name."""

    def told(self, preview: str) -> str:
        """The note for a file whose `preview` stays for that reason."""
        return f"{preview}, for of {self} nobody can say exactly how it looks"


class RowStrip(NamedTuple):
    """Some rows of the canvas, and the columns of them that are looked at."""

    top: int
    bottom: int
    columns: NDArray[np.intp]

    @property
    def shape(self) -> tuple[int, int]:
        """Rows and columns."""
        return self.bottom - self.top, len(self.columns)


@dataclass(frozen=True)
class Paint:
    """A layer: its coverage from 0 to 1 by row and column, and its colour, which has a first axis.

    Both are asked for by strip; a coverage of None is none at all. `clipped` keeps it within the
    next layer below that is not.
    """

    coverage: Callable[[RowStrip], Floats | None]
    colour: Callable[[RowStrip], Floats]
    blend: str = "normal"
    opacity: float = 1.0
    clipped: bool = False


@dataclass(frozen=True)
class PaintGroup:
    """A group, the lowest member first; if not `isolated`, they lie on what is below the group."""

    members: tuple[Item, ...]
    mask: Callable[[RowStrip], Floats | None] | None = None
    blend: str = "normal"
    opacity: float = 1.0
    isolated: bool = False
    clipped: bool = False


Item = Paint | PaintGroup


class Composed(NamedTuple):
    """Colours, not premultiplied, and coverage; from 0 to 1."""

    colour: Floats
    alpha: Floats


def of_one(values: NDArray[Any]) -> Floats:
    """Samples of 8 or 16 bits as parts of one."""
    found = values.astype(np.float32)
    found *= np.float32(1 / (255 if values.itemsize == 1 else 65535))
    return found


def _overlay(back: Floats, source: Floats) -> Floats:
    return _hard_light(source, back)


def _hard_light(back: Floats, source: Floats) -> Floats:
    low, high = 2 * back * source, back + (2 * source - 1) - back * (2 * source - 1)
    return np.where(source <= 0.5, low, high)


#: What is seen of two opaque colours laid on each other.
BLENDS: dict[str, Callable[[Floats, Floats], Floats]] = {
    "normal": lambda back, source: source,
    "multiply": lambda back, source: back * source,
    "screen": lambda back, source: back + source - back * source,
    "overlay": _overlay,
    "hard light": _hard_light,
    "darken": np.minimum,
    "lighten": np.maximum,
    "difference": lambda back, source: np.abs(back - source),
}


def seen(items: Sequence[Item], strip: RowStrip, channels: int, *, deep: bool) -> NDArray[Any]:
    """What a strip shows over white, (channels, rows, columns); 16 bits if `deep`, else 8."""
    empty = np.zeros((channels, *strip.shape), np.float32)
    laid = _laid(Composed(empty, np.zeros(strip.shape, np.float32)), items, strip)
    over_white = 1 + laid.alpha * (laid.colour - 1)
    most = 65535 if deep else 255
    values = np.floor(over_white * most + 0.5).clip(0, most)
    found: NDArray[Any] = values.astype(np.uint16 if deep else np.uint8)
    return found


def _laid(below: Composed, items: Sequence[Item], strip: RowStrip) -> Composed:
    for base, clipped in _with_clipped(items):
        below = _one(below, base, clipped, strip)
    return below


def _with_clipped(items: Sequence[Item]) -> Iterator[tuple[Item, list[Item]]]:
    """Each item that others may be clipped to, with those; the lowest of all is none of them."""
    base: Item | None = None
    clipped: list[Item] = []
    for item in items:
        if base is not None and item.clipped:
            clipped.append(item)
            continue
        if base is not None:
            yield base, clipped
        base, clipped = item, []
    if base is not None:
        yield base, clipped


def _one(below: Composed, item: Item, clipped: list[Item], strip: RowStrip) -> Composed:
    if isinstance(item, PaintGroup) and not item.isolated and not clipped:
        return _passed_through(below, item, strip)
    if isinstance(item, PaintGroup):
        empty = Composed(np.zeros_like(below.colour), np.zeros_like(below.alpha))
        inside = _laid(empty, item.members, strip)
        coverage: Floats | None = inside.alpha
        if item.mask and coverage is not None:
            mask = item.mask(strip)
            coverage = None if mask is None else coverage * mask
        source = inside.colour
    else:
        coverage = item.coverage(strip)
        if coverage is None:
            return below
        source = item.colour(strip)
    if coverage is None:
        return below
    if clipped:  # they lie on the base as if it were opaque, and are seen as far as it is
        whole = Composed(source, np.ones_like(coverage))
        source = _laid(whole, [_unclipped(one) for one in clipped], strip).colour
    return _over(below, source, coverage * np.float32(item.opacity), item.blend)


def _passed_through(below: Composed, folder: PaintGroup, strip: RowStrip) -> Composed:
    above = _laid(below, folder.members, strip)
    if folder.mask is None and folder.opacity == 1:
        return above
    part = folder.mask(strip) if folder.mask else np.ones(strip.shape, np.float32)
    if part is None:
        return below
    part = part * np.float32(folder.opacity)
    alpha = below.alpha + part * (above.alpha - below.alpha)
    old, new = below.colour * below.alpha, above.colour * above.alpha
    return Composed(_divided(old + part * (new - old), alpha), alpha)


def _unclipped(item: Item) -> Item:
    if isinstance(item, Paint):
        return Paint(item.coverage, item.colour, item.blend, item.opacity)
    return PaintGroup(item.members, item.mask, item.blend, item.opacity, item.isolated)


def _over(below: Composed, source: Floats, coverage: Floats, blend: str) -> Composed:
    """One colour with its coverage over what is below."""
    back, under = below
    if blend != "normal":
        source = source + under * (BLENDS[blend](back, source) - source)
    if under.min(initial=1) == 1:
        return Composed(back + coverage * (source - back), under)
    alpha = coverage + under * (1 - coverage)
    return Composed(_divided(coverage * source + (1 - coverage) * under * back, alpha), alpha)


def _divided(colour: Floats, alpha: Floats) -> Floats:
    found: Floats = np.divide(colour, np.maximum(alpha, np.float32(1e-9)))
    return found
