"""What is left of a part of the plane on the good side of lines, straight and bent ones."""

from __future__ import annotations

from collections.abc import Sequence

from guidekit.plane.bend import BEYOND, Bend
from guidekit.plane.box import Box
from guidekit.plane.polygon import HalfPlane, Points, clip_all, corners
from guidekit.plane.rings import Rings, within

#: A side of a straight line, or of a bent one.
Cut = HalfPlane | Bend


def cut_out(whole: Rings | Box, cuts: Sequence[Cut]) -> Rings:
    """What lies on the good side of all cuts: in one piece or several, or nothing.

    Of a box that straight lines cut there is only one piece, which is exact.
    """
    if isinstance(whole, Box):
        points = clip_all(corners(whole), [cut for cut in cuts if isinstance(cut, HalfPlane)])
        rings: Rings = (points,) if len(points) > 2 else ()
        cuts = [cut for cut in cuts if isinstance(cut, Bend)]
    else:
        rings = whole
    for cut in cuts:
        rings = within(rings, cut.rings if isinstance(cut, Bend) else (_half_plane(cut),))
    return rings


def _half_plane(side: HalfPlane) -> Points:
    """The good side of a straight line, to far beyond every canvas."""
    x, y = side.a * side.c, side.b * side.c
    a, b = side.a * BEYOND, side.b * BEYOND
    return ((x - b, y + a), (x - a - b, y + a - b), (x - a + b, y - a - b), (x + b, y - a))
