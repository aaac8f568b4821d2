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
from guidekit.raster.shapes import Area, Clip, Shape
from guidekit.raster.text import Text
from guidekit.writers.paths import Ring, even_odd_rings, holds, letter_box, rings_of


class Limit(NamedTuple):
    """Ink only within the union of `rings`, or only outside it."""

    rings: tuple[Ring, ...]
    within: bool


Limits = tuple[Limit, ...]  # all of them hold


class Piece(NamedTuple):
    """What is filled at one go: a union of rings (or an even-odd path), or text; and its limits."""

    rings: tuple[Ring, ...] = ()
    even_odd: bool = False
    text: Text | None = None
    limits: Limits = ()


def pieces(shapes: Iterable[Shape]) -> Iterator[Piece]:
    """Pieces that together cover what the shapes cover."""
    shapes = tuple(shapes)
    if rings := rings_of(shapes):
        yield Piece(rings)
    for shape in shapes:
        if isinstance(shape, Text):
            yield Piece(text=shape)
        elif isinstance(shape, Clip):
            yield from _limited(shape.shapes, _within(shape.within))
        elif isinstance(shape, Area):
            if even_odd := even_odd_rings(shape):
                yield Piece(even_odd, even_odd=True)
            else:
                yield from _limited(shape.shapes, _outside(shape.holes))


def limited(piece: Piece, shapes: tuple[Shape, ...]) -> Iterator[Piece]:
    """What of a piece lies within the shapes."""
    for limits in _all_of([piece.limits], _within(shapes)):
        yield piece._replace(limits=limits)


def _limited(shapes: Iterable[Shape], choices: list[Limits]) -> Iterator[Piece]:
    for piece in pieces(shapes):
        own = Limit(piece.rings or _room_of_letters(piece), True)  # to see what matters to it
        for limits in _all_of([(own, *piece.limits)], choices):
            yield _filling_less(piece, tuple(limit for limit in limits if limit != own))


def _filling_less(piece: Piece, limits: Limits) -> Piece:
    """The piece within limits; where one lies inside all that is filled, it is filled instead."""
    for limit in () if piece.even_odd else limits:
        if limit.within and all(
            any(holds(filled, ring) for filled in piece.rings) for ring in limit.rings
        ):
            return Piece(limit.rings, limits=tuple(other for other in limits if other != limit))
    return piece._replace(limits=limits)


def _within(shapes: Iterable[Shape]) -> list[Limits]:
    """Where the shapes are, as limits to choose from: the union of all choices."""
    shapes = tuple(shapes)
    rings = _solid(shapes)
    choices: list[Limits] = [(Limit(rings, True),)] if rings else []
    for shape in shapes:
        if isinstance(shape, Area):
            choices += _all_of(_within(shape.shapes), _outside(shape.holes))
        elif isinstance(shape, Clip):
            choices += _all_of(_within(shape.shapes), _within(shape.within))
    return choices


def _outside(shapes: Iterable[Shape]) -> list[Limits]:
    """Where the shapes are not. Outside an area is outside its outlines or within its holes."""
    shapes = tuple(shapes)
    rings = _solid(shapes)
    choices: list[Limits] = [(Limit(rings, False),)] if rings else [()]
    for shape in shapes:
        if isinstance(shape, Area):
            choices = _all_of(choices, _outside(shape.shapes) + _within(shape.holes))
        elif isinstance(shape, Clip):
            choices = _all_of(choices, _outside(shape.shapes) + _outside(shape.within))
    return choices


def _solid(shapes: tuple[Shape, ...]) -> tuple[Ring, ...]:
    """The rings of the shapes that are no areas or clips; text counts as the box it stands in."""
    letters = tuple(letter_box(shape) for shape in shapes if isinstance(shape, Text))
    return rings_of(shapes) + letters


def _room_of_letters(piece: Piece) -> tuple[Ring, ...]:
    """A box that has all of a text, with what stands above and below its capitals."""
    text = piece.text
    return (letter_box(text).inset(-text.height),) if text else ()


def _all_of(first: list[Limits], second: list[Limits]) -> list[Limits]:
    """Every choice of the one with every choice of the other, but for those that add nothing."""
    both = (_relevant((*a, *b)) for a, b in product(first, second))
    choices = {frozenset(limits): limits for limits in both if limits is not None}
    return [limits for key, limits in choices.items() if not any(other < key for other in choices)]


def _relevant(limits: Limits) -> Limits | None:
    """The limits without those that change nothing; None if no ink is left, by their bounds."""
    boxes = [bounds(limit.rings) for limit in limits if limit.within]
    if not boxes:
        return limits
    left, top = (max(box[edge] for box in boxes) for edge in (0, 1))
    right, bottom = (min(box[edge] for box in boxes) for edge in (2, 3))
    if left >= right or top >= bottom:
        return None

    def matters(ring: Ring) -> bool:
        l, t, r, b = bounds([ring])  # noqa: E741
        return l < right and left < r and t < bottom and top < b

    kept = dict.fromkeys(
        limit if limit.within else Limit(tuple(filter(matters, limit.rings)), False)
        for limit in limits
    )
    return tuple(limit for limit in kept if limit.rings)
