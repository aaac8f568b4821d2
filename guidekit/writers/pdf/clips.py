"""Areas and clips without masks: what is filled, and the paths that ink must keep in or out of.

A format that only fills and clips cannot take a shape away from another, but it can clip to all
that is outside a ring. So shapes become pieces; together they cover what the shapes cover, and they
may overlap.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import product
from typing import NamedTuple

from guidekit.plane.outline import bounds
from guidekit.raster.shapes import Area, Clip, Shape, Solid
from guidekit.raster.text import Text, letter_box
from guidekit.writers.paths import Ring, even_odd_rings, holds, rings_of


class ClipPath(NamedTuple):
    """Ink only within the union of `rings` (or an even-odd path), or only outside it."""

    rings: tuple[Ring, ...]
    within: bool
    even_odd: bool = False


ClipPaths = tuple[ClipPath, ...]  # all of them hold


class Filled(NamedTuple):
    """What is filled at one go: a union of rings (or an even-odd path), or text; and its clips."""

    rings: tuple[Ring, ...] = ()
    even_odd: bool = False
    text: Text | None = None
    clips: ClipPaths = ()


def pieces(shapes: Iterable[Shape]) -> Iterator[Filled]:
    """Pieces that together cover what the shapes cover."""
    shapes = tuple(shapes)
    if rings := rings_of(shapes):
        yield Filled(rings)
    for shape in shapes:
        if isinstance(shape, Text):
            yield Filled(text=shape)
        elif isinstance(shape, Clip):
            yield from _within_any(shape.shapes, _within(shape.within))
        elif isinstance(shape, Solid):
            yield Filled(shape.rings, even_odd=True)
        elif isinstance(shape, Area):
            if even_odd := even_odd_rings(shape):
                yield Filled(even_odd, even_odd=True)
            else:
                yield from _within_any(shape.shapes, _outside(shape.holes))


def clipped(piece: Filled, shapes: tuple[Shape, ...]) -> Iterator[Filled]:
    """What of a piece lies within the shapes."""
    for clips in _all_of([piece.clips], _within(shapes)):
        yield piece._replace(clips=clips)


def _within_any(shapes: Iterable[Shape], choices: list[ClipPaths]) -> Iterator[Filled]:
    for piece in pieces(shapes):
        rings = piece.rings or _room_of_letters(piece)
        own = ClipPath(rings, True, piece.even_odd)  # to see what matters to it
        for clips in _all_of([(own, *piece.clips)], choices):
            yield _filling_less(piece, tuple(clip for clip in clips if clip != own))


def _filling_less(piece: Filled, clips: ClipPaths) -> Filled:
    """The piece within clips; where one lies inside all that is filled, it is filled instead."""
    for clip in () if piece.even_odd else clips:
        if clip.within and all(
            any(holds(filled, ring) for filled in piece.rings) for ring in clip.rings
        ):
            others = tuple(other for other in clips if other != clip)
            return Filled(clip.rings, clip.even_odd, clips=others)
    return piece._replace(clips=clips)


def _within(shapes: Iterable[Shape]) -> list[ClipPaths]:
    """Where the shapes are, as clips to choose from: the union of all choices."""
    shapes = tuple(shapes)
    rings = _solid(shapes)
    choices: list[ClipPaths] = [(ClipPath(rings, True),)] if rings else []
    for shape in shapes:
        if isinstance(shape, Solid):
            choices.append((ClipPath(shape.rings, True, even_odd=True),))
        elif isinstance(shape, Area):
            choices += _all_of(_within(shape.shapes), _outside(shape.holes))
        elif isinstance(shape, Clip):
            choices += _all_of(_within(shape.shapes), _within(shape.within))
    return choices


def _outside(shapes: Iterable[Shape]) -> list[ClipPaths]:
    """Where the shapes are not. Outside an area is outside its outlines or within its holes."""
    shapes = tuple(shapes)
    rings = _solid(shapes)
    choices: list[ClipPaths] = [(ClipPath(rings, False),)] if rings else [()]
    for shape in shapes:
        if isinstance(shape, Solid):
            choices = _all_of(choices, [(ClipPath(shape.rings, False, even_odd=True),)])
        elif isinstance(shape, Area):
            choices = _all_of(choices, _outside(shape.shapes) + _within(shape.holes))
        elif isinstance(shape, Clip):
            choices = _all_of(choices, _outside(shape.shapes) + _outside(shape.within))
    return choices


def _solid(shapes: tuple[Shape, ...]) -> tuple[Ring, ...]:
    """The rings of ruled lines, strokes and polygons, and the boxes in which text stands."""
    letters = tuple(letter_box(shape) for shape in shapes if isinstance(shape, Text))
    return rings_of(shapes) + letters


def _room_of_letters(piece: Filled) -> tuple[Ring, ...]:
    """A box that has all of a text, with what stands above and below its capitals."""
    text = piece.text
    return (letter_box(text).inset(-text.height),) if text else ()


def _all_of(first: list[ClipPaths], second: list[ClipPaths]) -> list[ClipPaths]:
    """Every choice of the one with every choice of the other, but for those that add nothing."""
    both = (_relevant((*a, *b)) for a, b in product(first, second))
    choices = {frozenset(clips): clips for clips in both if clips is not None}
    return [clips for key, clips in choices.items() if not any(other < key for other in choices)]


def _relevant(clips: ClipPaths) -> ClipPaths | None:
    """The clips without those that change nothing; None if no ink is left, by their bounds."""
    boxes = [bounds(clip.rings) for clip in clips if clip.within]
    if not boxes:
        return clips
    left, top = (max(box[edge] for box in boxes) for edge in (0, 1))
    right, bottom = (min(box[edge] for box in boxes) for edge in (2, 3))
    if left >= right or top >= bottom:
        return None

    def matters(ring: Ring) -> bool:
        l, t, r, b = bounds([ring])  # noqa: E741
        return l < right and left < r and t < bottom and top < b

    kept = dict.fromkeys(
        clip if clip.within else clip._replace(rings=tuple(filter(matters, clip.rings)))
        for clip in clips
    )
    return tuple(clip for clip in kept if clip.rings)
