"""The numbers of panels, each in the corner of its panel where reading begins."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product

from guidekit.geometry.page import Panel
from guidekit.layers.guides.free_places import LEAST
from guidekit.layers.guides.kind import GuideInput
from guidekit.memory import remembered
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline, box_of
from guidekit.plane.polygon import Point
from guidekit.plane.rings import places_for, rings_of, within, without
from guidekit.raster.font import FontFile
from guidekit.raster.shapes import Shape
from guidekit.raster.text import Text, text_width

MOST_TRIES = 2_000  # places looked at for one number among many insets


@dataclass(frozen=True)
class Surroundings:
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
    ground = Surroundings(boxes.safe_area, fold, size, given.font, given.right_to_left)
    for panel in given.page.panels:
        if number := _number(panel, ground):
            yield number


@remembered
def _number(panel: Panel, ground: Surroundings) -> Text | None:
    """A panel's number in its place; None if it has no room."""
    inside = (panel.border and panel.border.inner) or panel.outline
    blocks = (*panel.cut_out, *([ground.fold] if ground.fold else []))
    words, size = str(panel.number), ground.capitals
    while size >= LEAST:
        width = text_width(words, size, ground.font)
        room = Box(-size, -size, width + size, 2 * size)
        fits = room.width <= panel.box.width and room.height <= panel.box.height
        if fits and (place := nearest_corner(inside, blocks, room, ground)):
            return Text(words, round(place[0]), round(place[1]), size, ground.font)
        size = size * 3 // 4
    return None


def nearest_corner(
    inside: Outline, blocks: Sequence[Outline], room: Box, ground: Surroundings
) -> Point | None:
    """The place for a box nearest to the upper left (or right) corner of an outline.

    Clear of all blocks, and in the safe area if the outline reaches into it.
    """
    places: Iterable[Point]
    if isinstance(inside, Box) and all(isinstance(block, Box) for block in blocks):
        clipped = inside.clipped(ground.safe_area)
        region = inside if clipped.is_empty else clipped
        places = _in_box(region, [box_of(block) for block in blocks], room, ground.right_to_left)
    else:
        outlines = rings_of([inside])
        seen = within(outlines, rings_of([ground.safe_area])) or outlines
        seen = without(seen, *(rings_of([block]) for block in blocks))
        places = (point for ring in places_for(room, seen) for point in ring)
    return min(places, key=lambda place: _away(place, ground.right_to_left), default=None)


def _away(place: Point, right_to_left: bool) -> float:
    """How far a place lies from where reading begins."""
    return place[1] + (-place[0] if right_to_left else place[0])


def _in_box(region: Box, blocks: Sequence[Box], room: Box, right_to_left: bool) -> list[Point]:
    """The best place for a box beside others; no place if there is none.

    In both directions it touches something on the side where reading begins.
    """
    blocks = [block for block in blocks if not block.clipped(region).is_empty]
    tops = [region.top, *(block.bottom for block in blocks)]
    if right_to_left:
        x = [side - room.right for side in (region.right, *(block.left for block in blocks))]
    else:
        x = [side - room.left for side in (region.left, *(block.right for block in blocks))]
    corners = product(x, (top - room.top for top in tops))
    for place in sorted(corners, key=lambda place: _away(place, right_to_left))[:MOST_TRIES]:
        there = room.shifted(*place)
        if region.holds(there) and all(block.clipped(there).is_empty for block in blocks):
            return [place]
    return []
