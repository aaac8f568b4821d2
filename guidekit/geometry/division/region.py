"""Where a part of a page lies, straight or slanted."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import cached_property

from guidekit.plane.bend import Bend
from guidekit.plane.box import EDGES, Box, Edge
from guidekit.plane.cuts import Cut, cut_out
from guidekit.plane.outline import Outline
from guidekit.plane.polygon import Point, Points, area

MOST_MET = 6  # gutters on one side of another that it may meet beyond the frame


@dataclass(frozen=True)
class SlantedGutter:
    """The edges of a gutter: the limits of the part before it, and of the part behind it.

    They are one each, and more where it meets the next gutter and the parts on both sides of the
    part between them would meet beyond.
    """

    before: tuple[Cut, ...]
    behind: tuple[Cut, ...]


@dataclass(frozen=True)
class Region:
    """A part of a page. `box` is its place as if all gutters were straight.

    The part itself is what of `limits` lies on the good side of all `cuts`, which are the edges
    of slanted gutters; without any, `limits` equals `box`. `ends` are those of its edges that are
    edges of the whole page's frame and not of a gutter. Cells of a map that join to another shape
    than a box have that `shape`, which fills the limits. `open` are the edges of the frame
    that its cuts keep it from: where it runs out to the bleed it goes on along its cuts.
    """

    box: Box
    limits: Box
    cuts: tuple[Cut, ...] = ()
    ends: frozenset[Edge] = frozenset(EDGES)
    shape: Points = ()
    open: frozenset[Edge] = frozenset()

    def ended(self, edge: Edge, at: int, cuts: tuple[Cut, ...] = ()) -> Region:
        """The region up to a gutter at one of its edges: at a place, or along slanted cuts."""
        box, ends = _with_edge(self.box, edge, at), self.ends - {edge}
        if cuts:
            kept_from = self.open | (self.ends - ends)
            return replace(self, box=box, cuts=(*self.cuts, *cuts), ends=ends, open=kept_from)
        return replace(
            self,
            box=box,
            limits=_with_edge(self.limits, edge, at),
            ends=ends,
            open=self.open - {edge},
        )

    def apart_from(self, fold: Edge) -> Region:
        """The region on a page whose frame ends at the fold of a spread on that side."""
        return replace(self, ends=self.ends - {fold})

    @property
    def is_free(self) -> bool:
        """True unless it is a box, cut by straight lines if at all."""
        return bool(self.shape) or any(isinstance(cut, Bend) for cut in self.cuts)

    @property
    def outline(self) -> Outline:
        """What it really is: a box where all edges are straight."""
        return self.points if self.cuts or self.shape else self.box

    def corner(self, across: int, down: int) -> Point:
        """The corner to the left (-1) or right (1), and at the top (-1) or bottom (1)."""
        width, height = self.box.width, self.box.height
        return max(self.points, key=lambda p: across * p[0] / width + down * p[1] / height)

    @cached_property
    def points(self) -> Points:
        """The corners of what it really is; fewer than three if nothing is left of it.

        The largest piece if gutters leave several.
        """
        rings = cut_out((self.shape,) if self.shape else self.limits, self.cuts)
        return max(rings, key=area, default=())


def _with_edge(box: Box, edge: Edge, at: int) -> Box:
    return replace(box, **{edge: at})
