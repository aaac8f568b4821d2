"""Parts of the plane of any shape: put together, taken out of each other, grown and shrunk.

pyclipper binds Clipper by Angus Johnson, which counts in whole numbers and so never fails on
noise; whole pixels stay whole. It is loaded where the first part is worked out, for pages of plain
boxes need none of this.
"""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from math import hypot
from typing import TYPE_CHECKING

from guidekit.plane.box import Box
from guidekit.plane.outline import Outline, box_of, points_of
from guidekit.plane.polygon import Points, area, clockwise, corners, holds

if TYPE_CHECKING:
    from collections.abc import Sequence

    Path = Sequence[tuple[int, int]]

#: Outlines whose corners run as the clock does, and their holes, whose corners run the other way.
Rings = tuple[Points, ...]

GRID = 2**16  # steps in a pixel: a coordinate is off by no more than half a step
FLAT = 0.005  # px: how far a chord may leave an arc; no pixel shows it
SLIVER = 2.0**-13  # px: what is thinner on average is noise
COARSE = 0.25  # px: curves as fine as that are fine enough for a place
LARGE = 50  # square pixels: no noise, however long a canvas is
MITRE = 4.0  # SVG 1.1, section 11.4: how far a corner may reach at most, in half the line's weight


def rings_of(outlines: Iterable[Outline]) -> Rings:
    """What all outlines cover, whichever way their corners run."""
    rings = tuple(clockwise(points_of(outline)) for outline in outlines)
    return united(rings) if len(rings) > 1 else rings


def united(rings: Rings) -> Rings:
    """What rings wind round, as rings that neither cross nor lie in each other's parts."""
    return _clipped("UNION", rings, ())


def clean(rings: Rings) -> Rings:
    """The same where they wind round as the clock runs; loops the other way round are dropped."""
    return _clipped("UNION", rings, (), rule="POSITIVE")


def without(whole: Rings, *taken: Rings) -> Rings:
    """What lies in the whole and in none of the parts taken out of it."""
    return _clipped("DIFFERENCE", whole, tuple(ring for rings in taken for ring in rings))


def within(rings: Rings, others: Rings) -> Rings:
    """What lies in both."""
    return _clipped("INTERSECTION", rings, others)


def grown(rings: Rings, by: float, in_arcs: bool = False) -> Rings:
    """All that is no further than `by` pixels away, or that far inside if it is negative.

    Corners stay corners; those that would reach further than `MITRE` times as far are cut off. Or
    they become arcs, by chords that leave them by no more than `FLAT`.
    """
    import pyclipper

    if not by or not rings:
        return rings
    offset = pyclipper.PyclipperOffset(MITRE, FLAT * GRID)
    join = pyclipper.JT_ROUND if in_arcs else pyclipper.JT_MITER
    offset.AddPaths(_to_grid(rings), join, pyclipper.ET_CLOSEDPOLYGON)
    return _from_grid(offset.Execute(by * GRID))


def softened(rings: Rings, radius: float, dents: float) -> Rings:
    """All corners rounded, those too that lie between curves; narrow ends become shorter.

    Corners that point inward have the radius `dents`.
    """
    opened = grown(grown(rings, -radius), radius, in_arcs=True)
    return grown(grown(opened, dents), -dents, in_arcs=True)


def places_for(box: Box, rings: Rings) -> Rings:
    """Where a point may be so that a box round it, which holds 0, 0, lies inside all.

    Only places with some room are found, to a quarter of a pixel. What the box sweeps, turned round
    and drawn along the edges, is what a point may not come near to (Minkowski sum).
    """
    import pyclipper

    turned = corners(Box(-box.right, -box.bottom, -box.left, -box.top))
    (pattern,) = _to_grid([turned])
    paths = [*filter(None, pyclipper.CleanPolygons(_to_grid(rings), COARSE * GRID))]
    edges = _from_grid(paths)
    swept = [tuple((x + dx, y + dy) for dx, dy in turned) for ring in edges for x, y in ring]
    for path in paths:  # of the box only its edges are drawn along
        swept += _from_grid(pyclipper.MinkowskiSum(pattern, path, True))
    return without(rings, tuple(swept))


def overlap(outline: Outline, other: Outline) -> bool:
    """True if two outlines have some of their areas in common."""
    common = box_of(outline).clipped(box_of(other))
    if common.is_empty:
        return False
    if isinstance(outline, Box) and isinstance(other, Box):
        return True
    one, two = points_of(outline), points_of(other)
    middle = (common.left + common.right) / 2, (common.top + common.bottom) / 2
    return (holds(one, middle) and holds(two, middle)) or bool(within((one,), (two,)))


def is_simple(points: Points) -> bool:
    """True if a polygon neither crosses nor touches itself."""
    found = _clipped("UNION", (points,), (), rule="EVENODD")
    return len(found) == 1 and abs(abs(area(points)) - area(found[0])) < 1


def on_grid(points: Points) -> Points:
    """The corners on the grid of all that is worked out here."""
    return tuple((round(x * GRID) / GRID, round(y * GRID) / GRID) for x, y in points)


def whole_area(rings: Rings) -> float:
    """The area in square pixels, without that of holes."""
    return sum(map(area, rings))


def _clipped(operation: str, subject: Rings, clip: Rings, rule: str = "NONZERO") -> Rings:
    """One of the boolean operations of Clipper, by a rule that says which windings are inside."""
    if not subject:
        return ()
    import pyclipper

    clipper = pyclipper.Pyclipper()
    with suppress(pyclipper.ClipperException):  # raised where none of them has an area
        clipper.AddPaths(_to_grid(clip), pyclipper.PT_CLIP, True)
    try:
        clipper.AddPaths(_to_grid(subject), pyclipper.PT_SUBJECT, True)
    except pyclipper.ClipperException:
        return ()
    kind, filled = getattr(pyclipper, f"CT_{operation}"), getattr(pyclipper, f"PFT_{rule}")
    return _from_grid(clipper.Execute(kind, filled, filled))


def _to_grid(rings: Iterable[Points]) -> list[Path]:
    return [[(round(x * GRID), round(y * GRID)) for x, y in ring] for ring in rings]


def _from_grid(paths: Iterable[Path]) -> Rings:
    return tuple(
        tuple((x / GRID, y / GRID) for x, y in path) for path in paths if not _is_sliver(path)
    )


def _is_sliver(path: Path) -> bool:
    """Whether a path is so thin on average that it is noise."""
    import pyclipper

    size = abs(pyclipper.Area(path)) / GRID
    if size > LARGE * GRID:
        return False
    sides = zip(path, (*path[1:], path[0]), strict=True)
    return bool(size <= SLIVER / 2 * sum(hypot(q[0] - p[0], q[1] - p[1]) for p, q in sides))
