"""The legend: what each line and tint on the page is called, beside a sample of it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import islice
from operator import add

from guidekit.layers.guides.free_places import place_for
from guidekit.layers.guides.kind import GuideInput
from guidekit.layers.model import Layer
from guidekit.layers.palette import Pen
from guidekit.plane.box import Box
from guidekit.raster.shapes import Clip, Rule, Shape, Stroke
from guidekit.raster.text import Text, letter_box, text_width

# in heights of capitals
SAMPLE = 5.0  # or longer, so that a pattern shows
BEFORE_WORDS = 0.7
BETWEEN = 2.0


def legend(given: GuideInput) -> Iterator[Layer]:
    """The words, and a layer for the sample of each guide that is seen below, in its colour."""
    samples = [(layer, sample) for layer in given.below if (sample := _first(layer.shapes))]
    if not samples:
        return
    font, most = given.font, given.pen.capitals
    words_wide = [text_width(layer.name, most, font) / most + BEFORE_WORDS for layer, _ in samples]
    taken, height = _words(given), most
    for _ in range(2):  # the smaller the letters, the longer the patterns beside them
        lengths = [_length(shape, height) for _, shape in samples]
        widths = map(add, lengths, words_wide)
        place, (height, lines) = place_for([*widths], BETWEEN, given, taken)
    top = place.top + (place.height - (2 * len(lines) - 1) * height) // 2
    waiting = zip(lengths, samples, strict=True)
    words: list[Text] = []
    drawn: list[Layer] = []
    for number, count in enumerate(lines):
        x, y = place.left, top + 2 * height * number
        for length, (layer, shape) in islice(waiting, count):
            box = Box(x, y, x + round(length * height), y + height)
            shapes = (_sample(shape, box, given.pen),)
            drawn.append(Layer(f"{layer.name} sample", shapes, layer.colour, layer.opacity))
            x = box.right + round(BEFORE_WORDS * height)
            words.append(Text(layer.name, x, y, height, font))
            x += text_width(layer.name, height, font) + round(BETWEEN * height)
    yield Layer("Legend words", tuple(words), given.ink)
    yield from drawn


def _first(shapes: Sequence[Shape]) -> Shape | None:
    """The first line or area of a guide; None for one that is words itself."""
    for shape in shapes:
        found = _first(shape.shapes) if isinstance(shape, Clip) else shape
        if found and not isinstance(found, Text):
            return found
    return None


def _length(shape: Shape, capitals: int) -> float:
    """How long a sample is in heights of capitals: at least one and a half times its pattern."""
    pattern = sum(shape.dash) if isinstance(shape, (Rule, Stroke)) else 0
    return max(SAMPLE, 1.5 * pattern / capitals)


def _sample(shape: Shape, box: Box, pen: Pen) -> Shape:
    """A line of the same weight and pattern along the middle of a box, or a tint over all of it."""
    match shape:
        case Stroke():
            return Stroke((box.left, box.bottom), (box.right, box.top), shape.weight, shape.dash)
        case Rule(line) if (weight := min(line.width, line.height)) <= 2 * pen.weight:
            y = box.top + (box.height - weight) // 2
            return Rule(Box(box.left, y, box.right, y + weight), shape.dash)
        case _:
            return Rule(box)


def _words(given: GuideInput) -> list[Box]:
    """The room that other words take."""
    shapes = (shape for layer in given.below for shape in layer.shapes)
    return [letter_box(text).inset(-text.height) for text in shapes if isinstance(text, Text)]
