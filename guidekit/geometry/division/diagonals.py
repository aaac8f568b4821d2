"""A part divided by its diagonals into triangles, with gutters of constant width between them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import hypot

from guidekit.geometry.division.region import Region
from guidekit.geometry.division.spacing import Spacing
from guidekit.issue.tree import Diagonals, Leaf
from guidekit.plane.outline import box_of
from guidekit.plane.polygon import HalfPlane, Point


def triangles(node: Diagonals, region: Region, spacing: Spacing) -> Iterator[tuple[Leaf, Region]]:
    """The panels of a part, with what each fills.

    The diagonals run between the corners that the part really has. Where the part is taller than
    wide, the gutter is that between panels side by side.
    """
    if not region.points:  # gutters leave nothing of it, as is told of its panels
        yield from ((leaf, region) for leaf, _ in node.panels)
        return
    gap = spacing.gap("across" if region.box.height > region.box.width else "down")
    falling = _above(region.corner(-1, -1), region.corner(1, 1))
    rising = _above(region.corner(-1, 1), region.corner(1, -1))
    for leaf, edges in node.panels:
        cuts = []
        if node.kind != "rising":
            cuts.append(falling if edges <= {"top", "right"} else falling.flipped())
        if node.kind != "falling":
            cuts.append(rising if edges <= {"top", "left"} else rising.flipped())
        own = replace(
            region,
            cuts=(*region.cuts, *(cut.moved(gap / 2) for cut in cuts)),
            ends=region.ends & edges,
            open=region.open | (region.ends - edges),
        )
        yield leaf, replace(own, box=box_of(own.points)) if own.points else own


def _above(left: Point, right: Point) -> HalfPlane:
    """What lies above the line from one point to another further right."""
    dx, dy = right[0] - left[0], right[1] - left[1]
    a, b = -dy / hypot(dx, dy), dx / hypot(dx, dy)
    return HalfPlane(a, b, a * (left[0] + right[0]) / 2 + b * (left[1] + right[1]) / 2)
