"""Coverages joined, taken from each other and laid over paper, pixel by pixel."""

from fractions import Fraction

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from support.planes import plane
from support.rounding import nearest
from support.strategies import boxes

from guidekit.plane.box import Box
from guidekit.raster.bands import Bands
from guidekit.raster.blend import FEW, Colour, Ink, flatten, minus, union
from guidekit.raster.fill import fill_boxes

CANVAS = Box(0, 0, 14, 9)
levels = st.integers(0, 255)
colours = st.tuples(levels, levels, levels)


@st.composite
def coverages(draw: st.DrawFn) -> Bands:
    """Boxes, each of its own coverage; where two overlap, the larger counts."""
    found = draw(st.lists(st.tuples(boxes(CANVAS), st.integers(1, 255)), max_size=4))
    layers = []
    for box, value in found:
        layer = fill_boxes(np.array([box.as_list()]), CANVAS)
        layers.append(layer.with_values(np.where(layer.values, value, 0).astype(np.uint8)))
    return union(layers)


inks = st.lists(st.builds(Ink, coverages(), colours, levels, st.just(False)), max_size=4)


@given(st.lists(coverages(), max_size=4) | st.lists(coverages(), min_size=FEW + 1, max_size=20))
def test_union(found: list[Bands]) -> None:
    """Every pixel of a union has the largest value of all, and nothing else lies in its box."""
    pixels = [plane(picture, CANVAS) for picture in found]
    expected = np.maximum.reduce([*pixels, np.zeros((CANVAS.height, CANVAS.width), np.uint8)])
    joined = union(found)
    assert (plane(joined, CANVAS) == expected).all()
    assert joined.box == joined.cropped().box


@given(coverages(), coverages())
def test_minus(picture: Bands, other: Bands) -> None:
    """What is left is what the other, which lies in the picture, does not cover of it."""
    value, less = (plane(x, CANVAS).astype(int) for x in (picture, other))
    assert (plane(minus(picture, other), CANVAS) == np.maximum(value - less, 0)).all()


@given(coverages(), st.lists(coverages(), max_size=3))
def test_minus_several(picture: Bands, others: list[Bands]) -> None:
    """Several that lie apart take away the sum of what they cover."""
    less = sum((plane(x, CANVAS).astype(int) for x in others), np.zeros(1, int))
    expected = np.maximum(plane(picture, CANVAS).astype(int) - less, 0)
    assert (plane(minus(picture, *others), CANVAS) == expected).all()


def over(ink: Ink, coverage: int, below: tuple[int, ...]) -> tuple[int, ...]:
    """One ink over one pixel (alpha, red, green, blue): W3C Compositing 1, simple alpha (5.1).

    co = (cs as + cb ab (1 - as)) / ao, with ao = as + ab (1 - as); kept in steps of 255.
    """
    source = Fraction(nearest(Fraction(coverage * ink.opacity, 255)), 255)
    backdrop = Fraction(below[0], 255) * (1 - source)
    alpha = source + backdrop
    if not source:
        return below
    mixed = (
        nearest((new * source + old * backdrop) / alpha)
        for new, old in zip(ink.colour, below[1:], strict=True)
    )
    return (nearest(alpha * 255), *mixed)


def unpacked(pixels: np.ndarray) -> np.ndarray:
    """Alpha, red, green and blue from ``alpha << 24 | red << 16 | green << 8 | blue``."""
    return np.stack([pixels >> shift & 255 for shift in (24, 16, 8, 0)], axis=-1)


@given(inks, colours | st.none())
def test_flatten(found: list[Ink], paper: Colour | None) -> None:
    """Inks lie on each other by the formula of W3C Compositing, over paper or over nothing."""
    pixels = unpacked(plane(flatten(found, CANVAS, paper), CANVAS))
    covers = [plane(ink.coverage, CANVAS).tolist() for ink in found]
    bottom = (255, *paper) if paper else (0, 0, 0, 0)
    for y in range(CANVAS.height):
        for x in range(CANVAS.width):
            expected: tuple[int, ...] = bottom
            for ink, cover in zip(found, covers, strict=True):
                expected = over(ink, cover[y][x], expected)
            assert tuple(pixels[y, x].tolist()) == expected


@given(inks, colours)
def test_flatten_like_pillow(found: list[Ink], paper: Colour) -> None:
    """Over paper the outcome is within a step of 255 an ink of Pillow's alpha compositing."""
    size = (CANVAS.width, CANVAS.height)
    image = Image.new("RGBA", size, (*paper, 255))
    for ink in found:
        cover = plane(ink.coverage, CANVAS).astype(float)
        layer = Image.new("RGBA", size, (*ink.colour, 255))
        alpha = np.floor(cover * ink.opacity / 255 + 0.5).astype(np.uint8)
        layer.putalpha(Image.fromarray(alpha))
        image = Image.alpha_composite(image, layer)
    mine = unpacked(plane(flatten(found, CANVAS, paper), CANVAS)).astype(int)
    theirs = np.asarray(image)[:, :, (3, 0, 1, 2)].astype(int)
    assert np.abs(mine - theirs).max() <= len(found)
