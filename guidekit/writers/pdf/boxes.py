"""The boxes of a page (ISO 32000-1 section 14.11.2), in pixels of the canvas."""

from __future__ import annotations

from typing import NamedTuple

from guidekit.layers.model import Stack
from guidekit.plane.box import Box


class Boxes(NamedTuple):
    """What is left of the page when it is cut (TrimBox), and how far the ink reaches (BleedBox)."""

    finished: Box
    inked: Box


def boxes_of(stack: Stack) -> Boxes:
    """The boxes that the stack tells of; the whole canvas for those of which it does not."""
    return Boxes(stack.finished or stack.canvas, stack.inked or stack.canvas)
