"""Where words may stand on a page: where no panel, line or mark is, and nothing is cut."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain, pairwise

from guidekit.geometry.page_boxes import OnePage
from guidekit.layers.folio import folio_boxes
from guidekit.layers.guides.flow import Flow, flowed
from guidekit.layers.guides.kind import GuideInput
from guidekit.plane.box import Box
from guidekit.raster.shapes import Rule

LEAST = 5  # pixels: lower capitals cannot be read

FromTo = tuple[int, int]  # from, to


def place_for(
    widths: Sequence[float], gap: float, given: GuideInput, taken: Sequence[Box] = ()
) -> tuple[Box, Flow]:
    """Where words, measured as `flowed` has them, get the largest letters, and their lines there.

    A free place if they can be read in one. The top of the page if there is no place at all, as on
    a scroll that is one picture.
    """
    most = given.pen.capitals
    kinds = places_for_words(given, taken)
    for places, least in (*((places, LEAST) for places in kinds), ([*chain(*kinds)], 1)):
        flows = [(place, flowed(widths, gap, place, most)) for place in places]
        if flows and (best := max(flows, key=lambda both: both[1].capitals))[1].capitals >= least:
            return best
    page = given.page.boxes.pages[0].safe_area
    left = page.left + (0 if given.right_to_left else 4 * most)  # clear of a number
    top = max([page.top + most, *(box.bottom for box in taken)])
    flow = flowed(widths, gap, Box(left, top, page.right, page.bottom), most)
    flow = flow._replace(capitals=max(1, flow.capitals))
    return Box(left, top, page.right, top + 2 * flow.capitals * len(flow.lines)), flow


def places_for_words(given: GuideInput, taken: Sequence[Box] = ()) -> list[list[Box]]:
    """Boxes clear of the lines of guides, of printed numbers and all that is `taken`: four lists.

    First those round the panels; then those between panels; then, whatever runs over them, those
    outside the trim, where it is cut off, and those in the margins. On a spread each lies on one
    page, on the one that is read first in front.
    """
    panels = [panel.box for panel in given.page.panels]
    ruled = (shape for layer in given.below for shape in layer.shapes if isinstance(shape, Rule))
    taken = [*taken, *(rule.box for rule in ruled), *folio_boxes(given.page)]
    apart = given.pen.capitals
    pages = given.page.boxes.pages
    around, inside, cut_off, margins = (list[Box]() for _ in range(4))
    for page in pages[::-1] if given.right_to_left else pages:
        beyond = [_band(given, page, rows) for rows in _beyond(given)]
        beside = [_band(given, page, rows) for rows in _beside(given, page)]
        between = [_band(given, page, rows) for rows in _between(given, page)]
        around += _clear([*beyond, *beside], [*panels, *taken], apart)
        inside += _clear(between, [*panels, *taken], apart)
        cut_off += _clear(beyond, taken, apart)
        margins += _clear(beside, taken, apart)
    return [around, inside, cut_off, margins]


def _beyond(given: GuideInput) -> Iterator[FromTo]:
    """Above and below the trim: on the board round a page, then in its bleed."""
    boxes, weight, half = given.page.boxes, given.pen.weight, given.pen.weight // 2
    yield boxes.canvas.top, boxes.bleed.top - half
    yield boxes.bleed.bottom + half, boxes.canvas.bottom
    yield boxes.bleed.top + weight, boxes.trim.top - half
    yield boxes.trim.bottom + half, boxes.bleed.bottom - weight


def _beside(given: GuideInput, page: OnePage) -> Iterator[FromTo]:
    """Between trim and safe area."""
    half = given.pen.weight // 2
    yield page.trim.top + half, page.safe_area.top - half
    yield page.safe_area.bottom + half, page.trim.bottom - half


def _between(given: GuideInput, page: OnePage) -> list[FromTo]:
    """The rows of the safe area in which no panel is, cut where screens end; the widest first."""
    found: list[FromTo] = []
    reached, end = page.safe_area.top, page.safe_area.bottom
    panels = sorted((panel.box.top, panel.box.bottom) for panel in given.page.panels)
    for top, bottom in [*panels, (end, end)]:
        if top > reached:
            cuts = [y for y in given.page.screens if reached < y < top]
            half = given.pen.weight // 2
            found += [(a + half, b - half) for a, b in pairwise([reached, *cuts, top])]
        reached = max(reached, bottom)
    return sorted(found, key=lambda rows: rows[0] - rows[1])


def _band(given: GuideInput, page: OnePage, rows: FromTo) -> Box:
    """Rows of one page from side to side, clear of trim marks and fold."""
    (top, bottom), trim, apart = rows, page.trim, given.pen.capitals
    left, right = page.safe_area.left, page.safe_area.right
    if given.page.boxes.trim != given.page.boxes.canvas:
        left, right = max(left, trim.left + apart), min(right, trim.right - apart)
    return Box(left, top, right, bottom)


def _clear(bands: Sequence[Box], solid: Sequence[Box], apart: int) -> Iterator[Box]:
    """The parts of bands beside what lies in their rows, the widest part of each first."""
    for band in bands:
        there = sorted(
            (box.left - apart, box.right + apart)
            for box in solid
            if box.top < band.bottom and band.top < box.bottom
        )
        parts, reached = [], band.left
        for left, right in [*there, (band.right, band.right)]:
            part = Box(reached, band.top, min(left, band.right), band.bottom)
            parts += [] if part.is_empty else [part]
            reached = max(reached, right)
        yield from sorted(parts, key=lambda part: -part.width)
