"""The small picture of a file, from the rows of its merged image as they are made."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from guidekit.drawn.psd.planes import Rows
from guidekit.writers.pixels.thumbnail import thumbnail_size
from guidekit.writers.psd.resources import LONGEST_THUMBNAIL, packed_picture

ACROSS = 2 * LONGEST_THUMBNAIL  # squares at least along the longer edge, where it has the pixels
ROWS = 4  # of a square that count at least
ROOM = 1 << 15  # bytes of the data: the noisiest picture takes 25,000


class SmallPicture:
    """Sums of small squares of a picture, which are made smaller still at the end."""

    def __init__(self, width: int, height: int, channels: int):
        self.size = thumbnail_size(width, height, LONGEST_THUMBNAIL)
        self.edge = max(1, max(width, height) // ACROSS)  # pixels of a square
        self.step = max(1, self.edge // ROWS)  # of so many rows one counts
        self.lefts = np.arange(0, width, self.edge)
        self.widths = np.diff(np.append(self.lefts, width))
        shape = channels, -(-height // self.edge), len(self.lefts)
        self.sums = np.zeros(shape, np.int64)
        self.counts = np.zeros(shape, np.int64)

    def add(self, channel: int, top: int, rows: Rows) -> None:
        """Rows of a channel of 8 or 16 bits, from the row `top` on."""
        places, within = np.divmod(np.arange(top, top + len(rows)), self.edge)
        counted = within % self.step == 0  # so the first row of each square, be it its only one
        places, some = places[counted], rows[counted]
        values = some if some.itemsize == 1 else some >> 8
        across = np.add.reduceat(values, self.lefts, axis=1, dtype=np.int64)
        np.add.at(self.sums[channel], places, across)
        np.add.at(self.counts[channel], places, self.widths)

    def resource(self) -> bytes:
        """The data of the image resource, `ROOM` bytes whatever it shows."""
        means: NDArray[np.uint8] = (self.sums // np.maximum(self.counts, 1)).astype(np.uint8)
        pixels = np.broadcast_to(means, (3, *means.shape[1:])).transpose(1, 2, 0)
        image = Image.fromarray(np.ascontiguousarray(pixels))
        return packed_picture(np.asarray(image.resize(self.size, Image.Resampling.BOX)), ROOM)
