"""Colours as grey."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray


def luminance(colours: NDArray[Any]) -> NDArray[np.uint8]:
    """Red, green and blue in the last axis as one grey: ITU-R BT.709 weights, rounded half up."""
    weighted = colours.astype(np.int64) @ np.array([2126, 7152, 722])
    grey: NDArray[np.uint8] = ((weighted + 5000) // 10000).astype(np.uint8)
    return grey
