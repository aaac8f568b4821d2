"""What a guide of a plug-in draws, looked at: whole pixels, sound numbers, and no end of nothing.

What is drawn from this never fails or lasts, so that none of it has to be watched.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import hypot, isfinite
from typing import get_args

from guidekit.errors import shown
from guidekit.layers.guides.kind import Guide
from guidekit.layers.model import Blend, Label, Layer
from guidekit.plane.box import Box
from guidekit.preset.guides import STATES
from guidekit.raster.font import FontFile
from guidekit.raster.shapes import Area, Clip, Polygon, Rule, Shape, Stroke
from guidekit.raster.text import Text, letter_box

MOST_SHAPES = 100_000  # of one guide on one canvas, with the dashes of lines
MOST_LAYERS = 1_000
MOST_LETTERS = 1_000  # of one text
FARTHEST = 10_000_000  # pixels from the canvas's origin
DEEPEST = 20  # shapes in shapes
HIGHEST = 20_000  # pixels of capitals


class WrongError(ValueError):
    """What a plug-in gave back cannot be used, and why."""


def check_guide(guide: Guide) -> None:
    """Raise `WrongError` unless a guide is off by itself, and its layer can be one."""
    if guide.state != "off" or not {*guide.states} <= {*STATES}:
        raise WrongError("it is not off where nobody asks for it")
    if not _is_whole(guide.place) or not _is_whole(guide.opacity) or not 0 <= guide.opacity <= 100:
        raise WrongError("its place or opacity is no whole number, or no percentage")
    _check_layer(Layer(guide.layer, (), guide.colour or (0, 0, 0), label=guide.label))


def check_drawn(drawn: Sequence[object], canvas: Box) -> None:
    """Raise `WrongError` unless these are shapes on the canvas, or layers of them."""
    layers = [one for one in drawn if isinstance(one, Layer)]
    for layer in layers:
        _check_layer(layer)
    if layers and (len(layers) < len(drawn) or len(layers) > MOST_LAYERS):
        raise WrongError(f"it draws shapes beside layers, or more than {MOST_LAYERS:,} layers")
    found = [shape for layer in layers for shape in layer.shapes] if layers else drawn
    if sum(map(_count, found)) > MOST_SHAPES:
        raise WrongError(f"it draws more than {MOST_SHAPES:,} shapes or dashes")
    for shape in found:
        xs, ys = zip(*_points(shape), strict=True)
        if max(xs) < 0 or max(ys) < 0 or min(xs) > canvas.right or min(ys) > canvas.bottom:
            raise WrongError(f"{_called(shape)} lies wholly off the canvas")


def _check_layer(layer: Layer) -> None:
    name, colour = layer.name, layer.colour
    if not isinstance(name, str) or not 0 < len(name) <= 250 or not _is_writable(name):
        raise WrongError(f"{shown(name)} is no name of a layer")
    if (
        not isinstance(colour, tuple)
        or len(colour) != 3
        or not all(map(_is_byte, (*colour, layer.opacity)))
    ):
        raise WrongError("a layer has a colour of three numbers from 0 to 255, and such an opacity")
    if layer.blend not in get_args(Blend) or layer.label not in get_args(Label):
        raise WrongError(f"{shown(name)} is not blended or marked as layers can be")
    if not all(isinstance(x, bool) for x in (layer.visible, layer.locked)) or layer.backdrop:
        raise WrongError(f"{shown(name)} is neither seen nor hidden, or a backdrop")
    if not isinstance(layer.shapes, tuple):
        raise WrongError(f"the shapes of {shown(name)} are no tuple")


def _count(shape: object, depth: int = 0) -> int:
    """How many shapes and dashes there are in one."""
    if depth > DEEPEST:
        raise WrongError(f"more than {DEEPEST} shapes lie in each other")
    if isinstance(shape, (Area, Clip)):
        return 1 + sum(_count(inner, depth + 1) for inner in _inner(shape))
    if not isinstance(shape, (Rule, Stroke)) or not shape.dash:
        return 1
    dash = shape.dash
    if (
        not isinstance(dash, tuple)
        or len(dash) % 2
        or not all(_is_whole(x) and x > 0 for x in dash)
    ):
        raise WrongError(f"{shown(dash)} is no pattern of strokes and gaps in whole pixels")
    (x0, y0), (x1, y1) = _points(shape)
    return int(hypot(x1 - x0, y1 - y0) * len(dash) / sum(dash)) + 1


def _inner(shape: Area | Clip) -> tuple[Shape, ...]:
    others = shape.holes if isinstance(shape, Area) else shape.within
    if not isinstance(shape.shapes, tuple) or not isinstance(others, tuple) or not shape.shapes:
        raise WrongError(f"{_called(shape)} is made of no tuple of shapes")
    return (*shape.shapes, *others)


def _points(shape: object) -> list[tuple[float, float]]:
    """Corners round a shape, all of them sound."""
    if isinstance(shape, Rule):
        return _corners(shape.box, shape)
    if isinstance(shape, Stroke):
        if not _is_sound(shape.weight) or shape.weight <= 0:
            raise WrongError(f"{shown(shape.weight)} is no weight of a line")
        return _sound((shape.start, shape.end), shape)
    if isinstance(shape, Polygon) and isinstance(shape.points, tuple) and len(shape.points) > 2:
        return _sound(shape.points, shape)
    if isinstance(shape, Text):
        _check_text(shape)
        return _corners(letter_box(shape), shape)
    if isinstance(shape, (Area, Clip)):
        inner = [_points(one) for one in _inner(shape)]
        return [point for points in inner[: len(shape.shapes)] for point in points]
    raise WrongError(f"{_called(shape)} is not a shape, or an empty one")


def _corners(box: object, shape: object) -> list[tuple[float, float]]:
    if not isinstance(box, Box) or not all(map(_is_whole, box.as_list())):
        raise WrongError(f"{_called(shape)} has no place in whole pixels: {str(box)[:80]}")
    return _sound(((box.left, box.top), (box.right, box.bottom)), shape)


def _sound(points: Iterable[object], shape: object) -> list[tuple[float, float]]:
    found = []
    for point in points:
        if not isinstance(point, tuple) or len(point) != 2 or not all(map(_is_sound, point)):
            raise WrongError(f"{_called(shape)} has no place: {str(point)[:80]}")
        found.append(point)
    return found


def _check_text(text: Text) -> None:
    whole = all(map(_is_whole, (text.x, text.y, text.height)))
    if not whole or not 0 < text.height <= HIGHEST:
        raise WrongError(f"a text stands on whole pixels, and is at most {HIGHEST:,} high")
    words = text.text
    if not isinstance(words, str) or len(words) > MOST_LETTERS or not _is_writable(words):
        raise WrongError(f"{shown(words)} is no text of up to {MOST_LETTERS:,} letters")
    if text.font is not None and not isinstance(text.font, FontFile):
        raise WrongError(f"{_called(text.font)} is not a font")


def _called(thing: object) -> str:
    return type(thing).__name__


def _is_whole(value: object) -> bool:
    return type(value) is int and abs(value) <= FARTHEST


def _is_sound(value: object) -> bool:
    return (isinstance(value, float) and isfinite(value) and abs(value) <= FARTHEST) or _is_whole(
        value
    )


def _is_byte(value: object) -> bool:
    return type(value) is int and 0 <= value <= 255


def _is_writable(text: str) -> bool:
    """Whether every format can hold a text: no halves of letters, nothing that steers."""
    return not any(x < " " or "\x7f" <= x < "\xa0" or "\ud800" <= x < "\ue000" for x in text)
