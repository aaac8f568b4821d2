"""The plain way to hold a picture, one value a pixel, to compare bands of runs with."""

import numpy as np

from guidekit.plane.box import Box
from guidekit.raster.bands import Bands


def plane(picture: Bands, canvas: Box) -> np.ndarray:
    """Every pixel of `canvas`, row by row, read from the bands as their docstring describes them.

    Nothing may lie outside `canvas`, and the bands must be tidy.
    """
    pixels = np.zeros((canvas.height, canvas.width), picture.values.dtype)
    if not len(picture.starts):
        return pixels
    assert canvas.holds(picture.box)
    before = None
    for i, (top, bottom) in enumerate(zip(picture.tops[:-1], picture.tops[1:], strict=True)):
        run = slice(picture.first[i], picture.first[i + 1])
        starts, values = picture.starts[run].tolist(), picture.values[run].tolist()
        ends = [*starts[1:], picture.right]
        assert top < bottom
        assert starts[0] == picture.left
        assert all(a < b for a, b in zip(starts, ends, strict=True))
        assert all(a != b for a, b in zip(values[1:], values[:-1], strict=True))
        assert (starts, values) != before, "two equal neighbouring bands"
        before = starts, values
        for start, end, value in zip(starts, ends, values, strict=True):
            pixels[
                top - canvas.top : bottom - canvas.top, start - canvas.left : end - canvas.left
            ] = value
    return pixels


def painted(boxes: list[Box], canvas: Box, value: int = 255) -> np.ndarray:
    """The union of boxes, painted pixel by pixel."""
    pixels = np.zeros((canvas.height, canvas.width), np.uint8)
    y, x = np.mgrid[canvas.top : canvas.bottom, canvas.left : canvas.right]
    for box in boxes:
        inside = (box.left <= x) & (x < box.right) & (box.top <= y) & (y < box.bottom)
        pixels[inside] = value
    return pixels


def rgba(picture: Bands, canvas: Box) -> np.ndarray:
    """Packed colours as an axis of red, green, blue and alpha."""
    packed = plane(picture, canvas).astype(np.int64)
    return np.stack([packed >> shift & 255 for shift in (16, 8, 0, 24)], axis=2)
