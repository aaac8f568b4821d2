"""Equal panels to the pixel: the spare pixels that no equal division can use go to the margin.

Parts of one split that have equal shares come out equal; the others take the rest in whole pixels,
as near to their shares as that allows. So each split can fill certain lengths only, and these are
numbers at equal steps: three equal parts with gutters of 10 px fill 20, 23, 26 … px. Splits within
splits, and beside each other, leave the numbers that all of them can fill, which are at equal steps
again. The largest of these that is not longer than the frame is the least loss.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import islice
from math import ceil
from typing import Protocol

from guidekit.geometry.division.equal_row import TOLERANCE, EqualRow, common, refusal
from guidekit.geometry.division.progression import ALL, Progression
from guidekit.geometry.division.spacing import Spacing
from guidekit.issue.models.share import Share
from guidekit.issue.tree import Axis, Diagonals, Empty, Grid, Leaf, Node, Split
from guidekit.plane.box import Box
from guidekit.units import Length

TRIES = 100  # lengths that are looked at; the first does but where steps are long


def equalised(node: Node, frame: Box, spacing: Spacing) -> tuple[Node, Box]:
    """The same panels with all shares as whole pixels, and the part of the frame they fill.

    The frame gives up at most a twentieth, half of it on either side. Raises `InputError` where
    that is not enough, and where something does not fit into the whole frame.
    """
    node, width = _along(node, "across", frame.width, spacing)
    node, height = _along(node, "down", frame.height, spacing)
    x, y = (frame.width - width) // 2, (frame.height - height) // 2
    left = frame.right - x - width if spacing.flip else frame.left + x
    return node, Box(left, frame.top + y, left + width, frame.top + y + height)


def _along(node: Node, axis: Axis, length: int, spacing: Spacing) -> tuple[Node, int]:
    """The node with whole pixels along one axis, and the length it fills."""
    fit = _fit(node, axis, length, spacing)
    most = fit.lengths.largest(length)
    if most is not None:
        step, least = fit.lengths.step or length, length * (1 - TOLERANCE)
        for found in islice(range(most, ceil(least) - 1, -step), TRIES):
            if made := fit.filling(found):
                return made, found
    raise refusal()


class _Fit(Protocol):
    """A node, the lengths along one axis that it can fill, and how it fills one of them.

    `filling` is None where a part would lie too far from its share.
    """

    @property
    def lengths(self) -> Progression: ...

    def filling(self, length: int) -> Node | None: ...


def _fit(node: Node, axis: Axis, length: int, spacing: Spacing) -> _Fit:
    """What a node can fill, if it is about so long; raises `InputError`."""
    if isinstance(node, (Leaf, Empty, Diagonals)):
        return _Panel(node)
    spacing = spacing.within(node)
    if isinstance(node, Grid):
        row = spacing.tracks_of(node, axis)
        spacing.spans(axis, length, row)  # what cannot fit is told
        return _Tracks(node, axis, EqualRow.of(row, [ALL] * len(row.shares), length, spacing.dpi))
    if node.axis != axis:
        beside = tuple(_fit(part, axis, length, spacing) for part in node.parts)
        return _Beside(node, beside, common(fit.lengths for fit in beside))
    row = spacing.row_of(node)
    spans = spacing.spans(axis, length, row)
    parts = tuple(
        _fit(part, axis, end - begin, spacing)
        for part, (begin, end) in zip(node.parts, spans, strict=True)
    )
    sizes = EqualRow.of(row, [part.lengths for part in parts], length, spacing.dpi)
    return _InRow(node, parts, sizes)


@dataclass(frozen=True)
class _Panel:
    """A panel, an empty place and a part of triangles fill every length."""

    node: Leaf | Empty | Diagonals
    lengths: Progression = ALL

    def filling(self, length: int) -> Node | None:
        return self.node


@dataclass(frozen=True)
class _Beside:
    """Parts that lie the other way all have the whole length."""

    node: Split
    parts: tuple[_Fit, ...]
    lengths: Progression

    def filling(self, length: int) -> Node | None:
        made = [part.filling(length) for part in self.parts]
        nodes = tuple(node for node in made if node)
        return replace(self.node, parts=nodes) if len(nodes) == len(made) else None


@dataclass(frozen=True)
class _InRow:
    """Parts one after the other."""

    node: Split
    parts: tuple[_Fit, ...]
    sizes: EqualRow

    @property
    def lengths(self) -> Progression:
        return self.sizes.lengths

    def filling(self, length: int) -> Node | None:
        sizes = self.sizes.filling(length)
        made = [part.filling(size) for part, size in zip(self.parts, sizes, strict=False)]
        nodes = tuple(node for node in made if node)
        if len(nodes) < len(self.parts):
            return None
        return replace(self.node, parts=nodes, shares=_as_shares(sizes))


@dataclass(frozen=True)
class _Tracks:
    """The columns or rows of a grid."""

    node: Grid
    axis: Axis
    sizes: EqualRow

    @property
    def lengths(self) -> Progression:
        return self.sizes.lengths

    def filling(self, length: int) -> Node | None:
        shares = _as_shares(self.sizes.filling(length))
        if self.axis == "across":
            return replace(self.node, columns=shares) if shares else None
        return replace(self.node, rows=shares) if shares else None


def _as_shares(sizes: Sequence[int]) -> tuple[Share, ...]:
    return tuple(Share(length=Length(Fraction(size), "px")) for size in sizes)
