"""Panels in their frame: a tree of splits turned into boxes of whole pixels."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from guidekit.errors import InputError, Problem
from guidekit.geometry.division.region import Region
from guidekit.geometry.division.slants import slanted_gutters
from guidekit.geometry.division.spacing import Spacing
from guidekit.issue.models.block import Block
from guidekit.issue.tree import Axis, Diagonals, Empty, Grid, Leaf, Node, Split
from guidekit.memory import remembered
from guidekit.plane.box import Box, Edge
from guidekit.plane.cells import Span, around_cells
from guidekit.plane.polygon import Points


@dataclass(frozen=True)
class Placed:
    """A panel of the layout by its number, where it lies."""

    number: int
    region: Region

    @property
    def box(self) -> Box:
        """Its place as if all gutters were straight."""
        return self.region.box


@dataclass(frozen=True)
class Division:
    """A box that is divided into equal parts, gutters between them: where rulers are laid.

    `flip` says that it is laid out from the right.
    """

    box: Box
    axis: Axis
    parts: int
    gap: int
    flip: bool = False


@dataclass(frozen=True)
class Arrangement:
    """The frame that panels and gutters fill, the panels by number, the equal divisions.

    `empty` are the places without a panel.
    """

    frame: Box
    panels: tuple[Placed, ...]
    divisions: tuple[Division, ...]
    empty: tuple[Region, ...] = ()


@remembered
def arrange(node: Node, frame: Box, spacing: Spacing) -> Arrangement:
    """Lay the panels of `node` out in `frame`.

    With `spacing.exact` the frame gives up the few pixels that no equal division can use, to the
    margin on both sides. Raises `InputError` where something cannot fit.
    """
    if frame.is_empty:
        came = "the safe area has no room for a panel"
        todo = "Take a higher dpi, or a smaller safe_area."
        raise InputError(Problem((), came, "a safe area of at least 1 px", todo))
    if spacing.exact:
        from guidekit.geometry.division.equal import equalised  # few presets ask for it

        node, frame = equalised(node, frame, spacing)
    found = [*_within(node, Region(frame, frame), spacing)]
    panels = sorted((x for x in found if isinstance(x, Placed)), key=lambda panel: panel.number)
    divisions = dict.fromkeys(x for x in found if isinstance(x, Division))
    empty = tuple(x for x in found if isinstance(x, Region))
    return Arrangement(frame, tuple(panels), tuple(divisions), empty)


def _within(node: Node, region: Region, spacing: Spacing) -> Iterator[Placed | Division | Region]:
    if isinstance(node, Leaf):
        yield Placed(node.number, region)
    elif isinstance(node, Empty):
        yield region
    elif isinstance(node, Diagonals):
        from guidekit.geometry.division.diagonals import triangles  # few pages have them

        for leaf, own in triangles(node, region, spacing.within(node)):
            yield Placed(leaf.number, own)
    elif isinstance(node, Grid):
        yield from _grid(node, region, spacing.within(node))
    else:
        yield from _split(node, region, spacing.within(node))


def _split(node: Split, region: Region, spacing: Spacing) -> Iterator[Placed | Division | Region]:
    box, row = region.box, spacing.row_of(node)
    if node.axis == "across":
        parts = _shifted(spacing.spans("across", box.width, row), box.left)
    else:
        parts = _shifted(spacing.spans("down", box.height, row), box.top)
    if len(set(node.shares)) == 1 and len(set(row.gaps)) <= 1 and len(parts) > 1:
        yield Division(box, node.axis, len(parts), row.gaps[0], spacing.flip)
    gutters = slanted_gutters(node, parts, region, spacing.dpi)
    near: Edge = "left" if node.axis == "across" else "top"
    far: Edge = "right" if node.axis == "across" else "bottom"
    for i, (part, (begin, end)) in enumerate(zip(node.parts, parts, strict=True)):
        own = region
        if i > 0:
            gutter = gutters[i - 1]
            own = own.ended(near, begin, gutter.behind if gutter else ())
        if i < len(gutters):
            gutter = gutters[i]
            own = own.ended(far, end, gutter.before if gutter else ())
        yield from _within(part, own, spacing)


def _grid(node: Grid, region: Region, spacing: Spacing) -> Iterator[Placed | Division | Region]:
    box = region.box
    columns, rows = spacing.tracks_of(node, "across"), spacing.tracks_of(node, "down")
    xs = _shifted(spacing.spans("across", box.width, columns), box.left)
    ys = _shifted(spacing.spans("down", box.height, rows), box.top)
    if len(set(node.columns)) == 1 < len(xs):
        yield Division(box, "across", len(xs), columns.gaps[0], spacing.flip)
    if len(set(node.rows)) == 1 < len(ys):
        yield Division(box, "down", len(ys), rows.gaps[0], spacing.flip)
    for inner, block in node.blocks:
        left, top, right, bottom = block.area
        own = region
        if left > 0:
            own = own.ended("left", xs[left][0])
        if top > 0:
            own = own.ended("top", ys[top][0])
        if right < len(xs):
            own = own.ended("right", xs[right - 1][1])
        if bottom < len(ys):
            own = own.ended("bottom", ys[bottom - 1][1])
        if block.cells:
            own = replace(own, shape=_shape(block, xs, ys, own.limits))
        yield from _within(inner, own, spacing)


def _shape(block: Block, xs: list[Span], ys: list[Span], limits: Box) -> Points:
    """Cells that join, with the gutters between them, in limits to which the outermost reach."""
    left, top, right, bottom = block.area
    columns, rows = xs[left:right], ys[top:bottom]
    columns = [(limits.left, columns[0][1]), *columns[1:]]
    columns[-1] = (columns[-1][0], limits.right)
    rows = [(limits.top, rows[0][1]), *rows[1:]]
    rows[-1] = (rows[-1][0], limits.bottom)
    return around_cells(frozenset((x - left, y - top) for x, y in block.cells), columns, rows)


def _shifted(spans: list[Span], by: int) -> list[Span]:
    return [(begin + by, end + by) for begin, end in spans]
