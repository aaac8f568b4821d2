"""Where gutters go on beyond the frame: between neighbours that both run out to the bleed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise, product

from guidekit.geometry.division.arrange import Arrangement, Placed
from guidekit.geometry.page import Panel
from guidekit.plane.box import EDGES, Box, Edge
from guidekit.plane.outline import points_of
from guidekit.plane.polygon import side_at

ACROSS: tuple[Edge, Edge] = ("left", "right")
DOWN: tuple[Edge, Edge] = ("top", "bottom")


def gutters_beyond(found: Arrangement, panels: Mapping[int, Panel], bleed: Box) -> Iterator[Box]:
    """For two panels that run out beside each other what lies between their middles there.

    `panels` go by number. What of it is in neither panel is gutter.
    """
    places = [*found.panels, *(Placed(0, region) for region in found.empty)]
    for edge in EDGES:
        here = [place for place in places if edge in place.region.ends]
        for a, b in pairwise(sorted(here, key=lambda place: _order(place, edge))):
            if not (a.number and b.number):
                continue  # beside an empty place
            one, other = panels[a.number], panels[b.number]
            if edge in one.bleed & other.bleed:
                begin, end = _middle(one, bleed, edge), _middle(other, bleed, edge)
                box = _strip(found.frame, bleed, edge, begin, end)
                if not box.is_empty:
                    yield box
    yield from _corners(found, panels, bleed)


def _corners(found: Arrangement, panels: Mapping[int, Panel], bleed: Box) -> Iterator[Box]:
    """What lies beyond a corner of the frame where a gutter runs out between two panels.

    Each of these runs out at one of the edges that meet there, and its gutter keeps it from the
    other.
    """

    def runs_out(at: Edge, kept_from: Edge) -> bool:
        return any(
            at in place.region.ends & panels[place.number].bleed and kept_from in place.region.open
            for place in found.panels
        )

    frame = found.frame
    for across, down in product(ACROSS, DOWN):
        if runs_out(across, down) and runs_out(down, across):
            x, y = getattr(frame, across), getattr(frame, down)
            far_x, far_y = getattr(bleed, across), getattr(bleed, down)
            # a gutter is wider than its middle: as far again along both edges
            yield _between((far_x, far_y), (2 * x - far_x, y))
            yield _between((far_x, far_y), (x, 2 * y - far_y))


def _between(one: tuple[int, int], other: tuple[int, int]) -> Box:
    (left, right), (top, bottom) = (sorted(pair) for pair in zip(one, other, strict=True))
    return Box(left, top, right, bottom)


def _order(place: Placed, edge: Edge) -> int:
    return place.box.left if edge in ("top", "bottom") else place.box.top


def _middle(panel: Panel, bleed: Box, edge: Edge) -> int:
    """The middle of a panel's side at the edge of the bleed."""
    side = side_at(bleed, edge)
    points = points_of(panel.outline)
    ends = [point for point in points if abs(side.beyond(point)) < 1e-6] or points
    along = [x if edge in ("top", "bottom") else y for x, y in ends]
    return int(min(along) + max(along)) // 2


def _strip(frame: Box, bleed: Box, edge: Edge, begin: int, end: int) -> Box:
    """What lies between an edge of the frame and the bleed, from `begin` to `end` along it."""
    match edge:
        case "left":
            return Box(bleed.left, begin, frame.left, end)
        case "top":
            return Box(begin, bleed.top, end, frame.top)
        case "right":
            return Box(frame.right, begin, bleed.right, end)
        case "bottom":
            return Box(begin, frame.bottom, end, bleed.bottom)
