"""Colours as a file stores them that is grey."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from guidekit.layers.model import Stack, visible_inks
from guidekit.raster.blend import Colour, Ink


def luminance(colours: NDArray[Any]) -> NDArray[np.uint8]:
    """Red, green and blue in the last axis as one grey: ITU-R BT.709 weights, rounded half up."""
    weighted = colours.astype(np.int64) @ np.array([2126, 7152, 722])
    grey: NDArray[np.uint8] = ((weighted + 5000) // 10000).astype(np.uint8)
    return grey


def stored_colour(colour: Colour, grey: bool) -> Colour:
    """A colour as the file stores it; in a grey file all three channels are that grey."""
    if not grey:
        return colour
    value = int(luminance(np.array(colour)))
    return value, value, value


def stored_paper(stack: Stack) -> Colour:
    """The colour below all, as the file stores it."""
    return stored_colour(stack.paper, stack.grey)


def stored_inks(stack: Stack, backdrop: bool = True) -> list[Ink]:
    """What is seen of a stack, the lowest first, in the colours that the file stores."""
    inks = visible_inks(stack, backdrop)
    return [ink._replace(colour=stored_colour(ink.colour, stack.grey)) for ink in inks]
