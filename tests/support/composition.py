"""Layers laid on each other by plain arithmetic on whole planes, to compare writers with.

W3C, Compositing and Blending Level 1, section 5.1 (simple alpha compositing), in 8 bits a channel:
after each layer every value is rounded to the nearest, the larger of two.
"""

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from guidekit.layers.model import Group, Layer, Stack

Plane = np.ndarray  # rows of pixels of red, green, blue, alpha; colours not multiplied by alpha


def paper(size: tuple[int, int], *colour: int) -> Plane:
    """A canvas of this width and height in one colour, the last number its alpha."""
    return np.full((size[1], size[0], 4), colour, np.uint8)


def with_opacity(layer: Plane, opacity: int) -> Plane:
    """The layer with its alpha lessened, 255 meaning not at all."""
    result = layer.copy()
    result[..., 3] = _divided(layer[..., 3].astype(np.int64) * opacity, 255)
    return result


def laid(under: Plane, layers: Iterable[Plane]) -> Plane:
    """The layers, the lowest first, on what lies under them."""
    result = under.copy()
    for layer in layers:
        here = layer[..., 3] > 0
        new, old = layer[here].astype(np.int64), result[here].astype(np.int64)
        share = new[:, 3:] * 255  # of 255 × 255
        rest = old[:, 3:] * (255 - new[:, 3:])
        colour = _divided(new[:, :3] * share + old[:, :3] * rest, share + rest)
        result[here] = np.concatenate([colour, _divided(share + rest, 255)], axis=1)
    return result


def grey(colour: tuple[int, int, int]) -> int:
    """The luminance of a colour by ITU-R BT.709, item 3.2, to the nearest whole number."""
    red, green, blue = colour
    return (2126 * red + 7152 * green + 722 * blue + 5000) // 10000


def in_grey(stack: Stack) -> Stack:
    """The stack with the luminance of every colour in its place, if it is to be stored in grey."""

    def turned(member: Layer | Group) -> Layer | Group:
        if isinstance(member, Group):
            return replace(member, members=tuple(map(turned, member.members)))
        return replace(member, colour=(grey(member.colour),) * 3)

    if not stack.grey:
        return stack
    members = tuple(map(turned, stack.members))
    return replace(stack, members=members, paper=(grey(stack.paper),) * 3)


def _divided(number: np.ndarray, by: np.ndarray | int) -> np.ndarray:
    return (2 * number + by) // (2 * by)
