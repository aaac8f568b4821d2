"""The numbers of panels, each in the corner of its panel where reading begins."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from heapq import heappop, heappush
from itertools import count
from math import hypot

from guidekit.geometry.page import Panel
from guidekit.layers.guides.kind import GuideInput
from guidekit.layers.guides.places import LEAST
from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.plane.outline import box_of, points_of
from guidekit.plane.polygon import Point, Points, Side, clip_all, clip_box, corners
from guidekit.raster.font import FontFile
from guidekit.raster.shapes import Shape
from guidekit.raster.text import Text, text_width

MOST_TRIES = 200  # places looked at for one number; a panel with more insets than that has none


@dataclass(frozen=True)
class Ground:
    """What of a page the places of numbers depend on; `capitals` is the height they begin with.

    `fold` is what the fold of a spread may swallow.
    """

    safe_area: Box
    fold: Box | None
    capitals: int
    font: FontFile | None
    right_to_left: bool


def panel_numbers(given: GuideInput) -> Iterator[Shape]:
    """Each panel's number: upper left, or upper right where that is read first.

    As far from the panel's own edges everywhere, slanted ones too; inside the safe area, beside
    what is laid over the panel, and off the fold. In a small panel it is smaller.
    """
    boxes, fold = given.page.boxes, None
    if boxes.fold is not None:
        half = max(given.page.book.furniture.fold_strip // 2, 1)
        fold = Box(boxes.fold - half, boxes.trim.top, boxes.fold + half, boxes.trim.bottom)
    size = given.pen.capitals * 3 // 2
    ground = Ground(boxes.safe_area, fold, size, given.font, given.right_to_left)
    for panel in given.page.panels:
        if number := _number(panel, ground):
            yield number


@remembered
def _number(panel: Panel, ground: Ground) -> Text | None:
    """A panel's number in its place; None if it has no room."""
    inside = points_of((panel.border and panel.border.inner) or panel.outline)
    region = clip_box(inside, ground.safe_area) or inside
    blocks = [*map(box_of, panel.cut_out), *([ground.fold] if ground.fold else [])]
    words, size = str(panel.number), ground.capitals
    while size >= LEAST:
        width = text_width(words, size, ground.font)
        room = Box(-size, -size, width + size, 2 * size)
        fits = room.width <= panel.box.width and room.height <= panel.box.height
        if fits and (place := nearest_corner(region, room, blocks, ground.right_to_left)):
            return Text(words, round(place[0]), round(place[1]), size, ground.font)
        size = size * 3 // 4
    return None


def nearest_corner(
    region: Points, room: Box, blocks: Sequence[Box], right_to_left: bool
) -> Point | None:
    """The place for a box nearest to a region's upper left (or right) corner.

    The region is convex. What a point may be, so that the box round it lies on one side of a line,
    is one side of a line again. So all places in the region are a polygon, and those that are also
    clear of a block are four, one for each side of it; the best corner of all is looked at first.
    """
    order = count()
    waiting: list[tuple[float, int, Point, Points]] = []

    def add(places: Points) -> None:
        if places:
            best = min(places, key=lambda p: p[1] + (-p[0] if right_to_left else p[0]))
            score = best[1] + (-best[0] if right_to_left else best[0])
            heappush(waiting, (score, next(order), best, places))

    add(clip_all(region, [_for_box(side, room) for side in _sides(region)]))
    for _ in range(MOST_TRIES):
        if not waiting:
            return None
        _, _, (x, y), places = heappop(waiting)
        there = (x + room.left, y + room.top, x + room.right, y + room.bottom)
        block = next((block for block in blocks if _overlap(block, there)), None)
        if not block:
            return x, y
        for side in _sides(corners(block)):
            add(clip_all(places, [_for_box(side.flipped(), room)]))
    return None


def _sides(points: Points) -> Iterator[Side]:
    """The inner sides of the edges of a convex polygon whose corners run as the clock does."""
    for p, q in zip(points, points[1:] + points[:1], strict=True):
        length = hypot(q[0] - p[0], q[1] - p[1])
        if length:
            a, b = (q[1] - p[1]) / length, (p[0] - q[0]) / length
            yield Side(a, b, a * p[0] + b * p[1])


def _for_box(side: Side, room: Box) -> Side:
    """Where a point may be so that all of the box round it is on this side."""
    return side.moved(max(side.a * x + side.b * y for x, y in corners(room)))


def _overlap(box: Box, there: tuple[float, float, float, float]) -> bool:
    left, top, right, bottom = there
    e = 1e-6
    return (
        left < box.right - e
        and box.left < right - e
        and top < box.bottom - e
        and box.top < bottom - e
    )
