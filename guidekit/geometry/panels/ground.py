"""What an inset lies over: one panel, or several as one, with the corners they really have."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import product
from math import ceil, floor
from typing import NamedTuple

from guidekit.geometry.division.region import Region
from guidekit.issue.models.panel import Corner
from guidekit.plane.box import Box, around
from guidekit.plane.outline import box_of
from guidekit.plane.polygon import HalfPlane, Point, Points, clip_all, corners, edges_by_side
from guidekit.plane.rings import Rings, grown, places_for, without

#: Toward each corner: left or right, up or down.
TOWARD: dict[Corner, tuple[int, int]] = {
    "top-left": (-1, -1),
    "top-right": (1, -1),
    "bottom-left": (-1, 1),
    "bottom-right": (1, 1),
}


class PixelSize(NamedTuple):
    """Width and height in pixels."""

    width: int
    height: int


@dataclass(frozen=True)
class Ground:
    """`box` is the place as if all gutters were straight; really it is what of `limits` lies on the
    good side of all `cuts`, or the `rings` of one panel that is joined of places or bends.
    """

    box: Box
    limits: Box
    cuts: tuple[HalfPlane, ...]
    rings: Rings = ()

    @classmethod
    def of(cls, regions: Sequence[Region]) -> Ground:
        """The panels in these regions as one, with the slanted sides that none of them crosses.

        A panel whose side another crosses, or whose side bends, reaches as far as its corners.
        """
        if len(regions) == 1 and regions[0].is_free:
            (region,) = regions
            return cls(region.box, region.limits, (), (region.points,))
        cuts = [
            cut
            for region in regions
            for cut in region.cuts
            if isinstance(cut, HalfPlane)
            if all(cut.beyond(point) < 1e-6 for other in regions for point in other.points)
        ]
        limits = [
            region.limits
            if {*region.cuts} <= {*cuts} or not region.points
            else box_of(region.points)
            for region in regions
        ]
        box = around(region.box for region in regions)
        return cls(box, around(limits), tuple(dict.fromkeys(cuts)))

    @property
    def is_box(self) -> bool:
        """True if all its edges are level and upright, and its corners are four."""
        return not self.cuts and not self.rings

    @cached_property
    def points(self) -> Points:
        """The corners as they really are."""
        if self.rings:
            return self.rings[0]
        return clip_all(corners(self.limits), self.cuts)

    def corner(self, name: Corner) -> Point:
        """The corner of this name."""
        return min(self.points, key=lambda point: self._away(point, name))

    def in_corner(self, name: Corner, size: PixelSize, room: int) -> Box | None:
        """A box of this size in a corner, `room` pixels from the sides that meet there.

        None if it has no room there.
        """
        if self.rings:
            return self._in_free_corner(name, size, room)
        toward = TOWARD[name]
        sides = [*edges_by_side(self.limits), *self.cuts]
        allowed = [_for_upper_left(side, size, room, toward) for side in sides]
        met = [side for side in allowed if _is_toward(side, toward)]
        places = clip_all(corners(self.limits), allowed)
        if not places:
            return None
        best = min(places, key=lambda point: self._away(point, name))
        touched = {abs(side.a) > abs(side.b) for side in met if abs(side.beyond(best)) < 1e-6}
        if len(touched) < 2:  # it would lie at one of the two sides only
            return None
        x, y = best
        whole = [
            place
            for place in product(range(floor(x) - 1, ceil(x) + 2), range(floor(y) - 1, ceil(y) + 2))
            if all(side.beyond(place) < 1e-6 for side in allowed)
        ]
        left, top = min(whole or [(round(x), round(y))], key=lambda point: self._away(point, name))
        return Box(left, top, left + size.width, top + size.height)

    def _in_free_corner(self, name: Corner, size: PixelSize, room: int) -> Box | None:
        """The same in a panel of any shape, `room` pixels from all of its sides."""
        inside = grown(self.rings, -room)
        places = places_for(Box(0, 0, *size), inside)
        near = {(round(x) + dx, round(y) + dy) for p in places for x, y in p
                for dx, dy in product((-1, 0, 1), repeat=2)}  # fmt: skip
        for left, top in sorted(near, key=lambda point: self._away(point, name)):
            box = Box(left, top, left + size.width, top + size.height)
            if not without((corners(box),), inside):
                return box
        return None

    def _away(self, point: Point, name: Corner) -> float:
        """How far a point lies from a corner, in widths and heights."""
        across, down = TOWARD[name]
        return -(across * point[0] / self.box.width + down * point[1] / self.box.height)


def _is_toward(side: HalfPlane, toward: tuple[int, int]) -> bool:
    """Whether a side is one of the two that meet in a corner."""
    return side.a * toward[0] + side.b * toward[1] > 0


def _for_upper_left(
    side: HalfPlane, size: PixelSize, room: int, toward: tuple[int, int]
) -> HalfPlane:
    """Where the upper left corner of a box may be, so that all of it is on the good side.

    From sides toward its corner it keeps `room` pixels away.
    """
    reach = max(side.a, 0) * size.width + max(side.b, 0) * size.height
    return side.moved(reach + (room if _is_toward(side, toward) else 0))
