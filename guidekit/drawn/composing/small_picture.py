"""The small picture of a file, from the rows of its merged image as they are made."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from guidekit.drawn.composing.runs import Pixels
from guidekit.writers.pixels.thumbnail import thumbnail_size

ACROSS = 2  # squares at least for each pixel of the small one, where the large one has so many
ROWS = 4  # of a square that count at least


class SmallPicture:
    """Sums of small squares of a picture, which are made smaller still at the end."""

    def __init__(self, width: int, height: int, channels: int, longest: int):
        self.size = thumbnail_size(width, height, longest)
        self.edge = max(1, max(width, height) // (ACROSS * longest))  # pixels of a square
        self.step = max(1, self.edge // ROWS)  # of so many rows one counts
        self.lefts = np.arange(0, width, self.edge)
        self.widths = np.diff(np.append(self.lefts, width))
        shape = channels, -(-height // self.edge), len(self.lefts)
        self.sums = np.zeros(shape, np.int64)
        self.counts = np.zeros(shape, np.int64)

    def add(self, channel: int, top: int, rows: Pixels) -> None:
        """Rows of a channel of 8 or 16 bits, from the row `top` on."""
        places, within = np.divmod(np.arange(top, top + len(rows)), self.edge)
        counted = within % self.step == 0  # so the first row of each square, be it its only one
        places, some = places[counted], rows[counted]
        values = some if some.itemsize == 1 else some >> 8
        across = np.add.reduceat(values, self.lefts, axis=1, dtype=np.int64)
        np.add.at(self.sums[channel], places, across)
        np.add.at(self.counts[channel], places, self.widths)

    @property
    def image(self) -> Image.Image:
        """Red, green and blue, neither edge above `longest` pixels."""
        means: NDArray[np.uint8] = (self.sums // np.maximum(self.counts, 1)).astype(np.uint8)
        pixels = np.broadcast_to(means, (3, *means.shape[1:])).transpose(1, 2, 0)
        image = Image.fromarray(np.ascontiguousarray(pixels))
        return image.resize(self.size, Image.Resampling.BOX)
