"""Bands of runs hold the same pixels as the plain way of one number a pixel, and hold them tidily.

`plane` checks on every reading that no two neighbouring runs and no two neighbouring bands are
equal; numpy planes are the reference throughout.
"""

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from support.planes import painted, plane
from support.strategies import boxes

from guidekit.plane.box import Box
from guidekit.raster.bands import EMPTY, Bands, filled, from_keys
from guidekit.raster.blend import union
from guidekit.raster.fill import fill_boxes
from guidekit.raster.mix import combined, stacked

CANVAS = Box(-3, 2, 21, 19)
box_lists = st.lists(boxes(CANVAS, over=6), max_size=12)


def as_array(found: list[Box]) -> np.ndarray:
    """Boxes as rows of four numbers."""
    return np.array([box.as_list() for box in found], np.int64).reshape(-1, 4)


@st.composite
def pictures(draw: st.DrawFn) -> Bands:
    """Bands of up to three values, made as the union of boxes of one value each."""
    layers = []
    for value in draw(st.lists(st.sampled_from([1, 128, 255]), max_size=3)):
        layer = fill_boxes(as_array(draw(box_lists)), CANVAS)
        layers.append(layer.with_values(np.where(layer.values, value, 0).astype(np.uint8)))
    return union(layers)


@given(box_lists)
def test_boxes(found: list[Box]) -> None:
    """Boxes cover just the pixels inside them, once, and only inside the canvas."""
    picture = fill_boxes(as_array(found), CANVAS)
    assert (plane(picture, CANVAS) == painted(found, CANVAS)).all()


@given(boxes(CANVAS), st.integers(1, 255))
def test_filled(box: Box, value: int) -> None:
    """One value all over a box is one run; an empty box has none."""
    picture = filled(box, value)
    assert (plane(picture, CANVAS) == painted([box], CANVAS, value)).all()
    assert len(picture.starts) == (0 if box.is_empty else 1)


@given(pictures())
def test_runs_fill_the_box(picture: Bands) -> None:
    """Bands and runs add up to the box, and a row read as runs is the row of the plane."""
    box, pixels = picture.box, plane(picture, CANVAS)
    assert picture.heights.sum() == box.height
    assert (np.add.reduceat(picture.lengths, picture.first[:-1]) == box.width).all() or box.is_empty
    for y in range(box.top, box.bottom):
        values = [value for length, value in picture.row(y) for _ in range(length)]
        row = pixels[y - CANVAS.top, box.left - CANVAS.left : box.right - CANVAS.left]
        assert values == row.tolist()


@given(st.integers(0, 2**32 - 1))
def test_cropped(seed: int) -> None:
    """Cropping takes away the empty rows and columns around what is there, and nothing else."""
    picture = noise(seed)
    before = plane(picture, CANVAS)
    cropped = picture.cropped()
    assert (plane(cropped, CANVAS) == before).all()
    y, x = np.nonzero(before)
    if len(x):
        tight = Box(int(x.min()), int(y.min()), int(x.max()) + 1, int(y.max()) + 1)
        assert cropped.box == tight.shifted(CANVAS.left, CANVAS.top)
    else:
        assert cropped is EMPTY


def noise(seed: int) -> Bands:
    """A few random pixels, held as bands that reach over the whole canvas."""
    random = np.random.default_rng(seed)
    pixels = random.choice([0, 9, 255], size=(CANVAS.height, CANVAS.width), p=[0.9, 0.05, 0.05])
    pixels[:, : random.integers(CANVAS.width)] = 0
    pixels[random.integers(CANVAS.height) :] = 0
    tops = np.arange(CANVAS.top, CANVAS.bottom + 1)
    stride = CANVAS.width + 1
    keys = np.arange(CANVAS.height)[:, None] * stride + np.arange(CANVAS.width)
    return from_keys(CANVAS, tops, keys.ravel(), pixels.astype(np.uint8).ravel())


@given(st.integers(0, 2**32 - 1), boxes(CANVAS))
def test_within(seed: int, box: Box) -> None:
    """The part inside a box has the pixels of the whole there."""
    picture = noise(seed)
    assume(not box.is_empty)
    part = picture.within(box)
    assert part.box == box
    whole = plane(picture, CANVAS)
    rows = slice(box.top - CANVAS.top, box.bottom - CANVAS.top)
    columns = slice(box.left - CANVAS.left, box.right - CANVAS.left)
    assert (plane(part, box) == whole[rows, columns]).all()


@given(st.lists(pictures(), min_size=1, max_size=3), st.integers(0, 2))
def test_combined(found: list[Bands], which: int) -> None:
    """Several pictures cut along the same runs still show what each of them shows."""
    which %= len(found)
    again = combined(found, CANVAS, lambda values: values[which])
    assert (plane(again, CANVAS) == plane(found[which], CANVAS)).all()


@given(st.lists(st.integers(0, 2**32 - 1), min_size=2, max_size=4), st.integers(1, 9))
def test_strips_leave_no_seam(seeds: list[int], rows: int) -> None:
    """A picture mixed in strips of any height is the picture mixed at one go, tidy as that is."""
    found = [noise(seed) for seed in seeds]
    whole = combined(found, CANVAS, np.maximum.reduce)
    edges = [*range(CANVAS.top, CANVAS.bottom, rows), CANVAS.bottom]
    strips = [replace(CANVAS, top=top, bottom=bottom) for top, bottom in pairwise(edges)]
    parts = stacked([combined(found, strip, np.maximum.reduce) for strip in strips])
    assert (plane(parts, CANVAS) == plane(whole, CANVAS)).all()
    assert parts.tops.tolist() == whole.tops.tolist()


@pytest.mark.parametrize("dpi", [600, 4800])
def test_size_does_not_follow_resolution(dpi: int) -> None:
    """A page of four lines is a handful of runs, and no more of them at a higher resolution."""
    width, height, line = 6 * dpi, 9 * dpi, dpi // 100
    edges = [
        (0, 0, width, line),
        (0, height - line, width, height),
        (0, 0, line, height),
        (width - line, 0, width, height),
    ]
    picture = fill_boxes(np.array(edges), Box(0, 0, width, height))
    assert picture.heights.tolist() == [line, height - 2 * line, line]
    assert picture.lengths.tolist() == [width, line, width - 2 * line, line, width]
