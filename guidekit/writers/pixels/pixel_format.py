"""What a pixel of a flat picture is made of, and the samples of its runs."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from guidekit.raster.bands import Bands
from guidekit.writers.pixels.rows import ALPHA, BLUE, GREEN, RED, channels


class PixelFormat(NamedTuple):
    """Grey or red, green and blue; with alpha or opaque; 8 or 16 bits a sample."""

    grey: bool
    alpha: bool
    depth: int

    @property
    def places(self) -> tuple[int, ...]:
        """Where the samples of a pixel lie in packed colours; in grey ones all three are alike."""
        return (*((RED,) if self.grey else (RED, GREEN, BLUE)), *((ALPHA,) if self.alpha else ()))


def samples(picture: Bands, form: PixelFormat) -> NDArray[np.uint8]:
    """One row for each run, one column for each channel, 0 to 255 whatever the depth.

    A sample of 16 bits is 257 times as much, so that both its bytes are the same.
    """
    return channels(picture.values, form.places)
