"""Panels in their frame: a tree of splits turned into boxes of whole pixels."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from guidekit.errors import InputError, Problem
from guidekit.geometry.box import Box
from guidekit.geometry.divide import divide
from guidekit.geometry.split import Grid, Leaf, Node
from guidekit.issue.share import Share


@dataclass(frozen=True)
class Spacing:
    """What holds for all panels of a page: gutters in pixels, resolution, the rule for spares.

    `flip` says that the fold is on the right: everything across is then computed from the right,
    so that the same panels on the facing page are the exact mirror image.
    """

    across: int
    down: int
    dpi: int
    exact: bool = False
    flip: bool = False


@lru_cache(maxsize=1024)
def arrange(node: Node, frame: Box, spacing: Spacing) -> tuple[tuple[int, Box], ...]:
    """The panels' numbers and boxes, by number.

    With `spacing.exact` the frame gives up the few pixels that no equal division can use, to the
    margin on both sides. Raises `InputError` where something cannot fit.
    """
    if spacing.exact:
        frame = _exact_frame(node, frame, spacing)
    return tuple(sorted(_panels(node, frame, spacing)))


def _panels(node: Node, box: Box, spacing: Spacing) -> Iterator[tuple[int, Box]]:
    if isinstance(node, Leaf):
        yield node.number, box
    elif isinstance(node, Grid):
        xs = _across(node.columns, box, spacing, f"{node.place}widths")
        ys = _down(node.rows, box, spacing, f"{node.place}heights")
        for leaf, (left, top, right, bottom) in node.areas:
            yield leaf.number, Box(xs[left][0], ys[top][0], xs[right - 1][1], ys[bottom - 1][1])
    elif node.axis == "across":
        for part, (left, right) in zip(
            node.parts, _across(node.shares, box, spacing, node.place), strict=True
        ):
            yield from _panels(part, Box(left, box.top, right, box.bottom), spacing)
    else:
        for part, (top, bottom) in zip(
            node.parts, _down(node.shares, box, spacing, node.place), strict=True
        ):
            yield from _panels(part, Box(box.left, top, box.right, bottom), spacing)


def _across(
    shares: tuple[Share, ...], box: Box, spacing: Spacing, place: str
) -> list[tuple[int, int]]:
    if not spacing.flip:
        parts = divide(box.width, shares, spacing.across, spacing.dpi, spacing.exact, place)
        return [(box.left + a, box.left + b) for a, b in parts]
    parts = divide(box.width, shares[::-1], spacing.across, spacing.dpi, spacing.exact, place)
    return [(box.right - b, box.right - a) for a, b in reversed(parts)]


def _down(
    shares: tuple[Share, ...], box: Box, spacing: Spacing, place: str
) -> list[tuple[int, int]]:
    parts = divide(box.height, shares, spacing.down, spacing.dpi, spacing.exact, place)
    return [(box.top + a, box.top + b) for a, b in parts]


def _exact_frame(node: Node, frame: Box, spacing: Spacing) -> Box:
    """The largest frame up to a twentieth smaller that all splits divide without a remainder."""
    width, height = frame.width, frame.height
    while width >= frame.width * 19 // 20 and height >= frame.height * 19 // 20:
        spare_x, spare_y = _spares(node, Box(0, 0, width, height), spacing)
        if not spare_x and not spare_y:
            x, y = (frame.width - width) // 2, (frame.height - height) // 2
            left = frame.right - x - width if spacing.flip else frame.left + x
            return Box(left, frame.top + y, left + width, frame.top + y + height)
        width -= bool(spare_x)
        height -= bool(spare_y)
    raise InputError(
        Problem(
            "equal",
            "these panels cannot all be made exactly equal within a twentieth of the frame",
            '"flush", where equal panels differ by at most one pixel',
            'Take equal = "flush", or make the shares simpler.',
        )
    )


def _spares(node: Node, box: Box, spacing: Spacing) -> tuple[int, int]:
    """Pixels across and down that the splits of `node` would leave over in `box`."""
    if isinstance(node, Leaf):
        return 0, 0
    if isinstance(node, Grid):
        xs = _across(node.columns, box, spacing, node.place)
        ys = _down(node.rows, box, spacing, node.place)
        return box.width - (max(xs)[1] - min(xs)[0]), box.height - (ys[-1][1] - ys[0][0])
    if node.axis == "across":
        parts = _across(node.shares, box, spacing, node.place)
        inner = [Box(a, box.top, b, box.bottom) for a, b in parts]
        own = (box.width - (parts[-1][1] - parts[0][0]), 0)
    else:
        parts = _down(node.shares, box, spacing, node.place)
        inner = [Box(box.left, a, box.right, b) for a, b in parts]
        own = (0, box.height - (parts[-1][1] - parts[0][0]))
    spares = [own, *(_spares(p, b, spacing) for p, b in zip(node.parts, inner, strict=True))]
    return max(x for x, _ in spares), max(y for _, y in spares)
