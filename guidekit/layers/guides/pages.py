"""Guides of the whole page: edges, fold, centre, screens."""

from __future__ import annotations

from collections.abc import Iterator

from guidekit.layers.guides.kind import GuideInput
from guidekit.layers.guides.lines import level, upright
from guidekit.plane.box import Box
from guidekit.raster.shapes import Rule, Shape, outline


def centre_lines(given: GuideInput) -> Iterator[Shape]:
    """The middle of each page, across and down."""
    weight, dash = given.pen.weight, given.pen.dash(12, 3, 2, 3)
    for one in given.page.boxes.pages:
        trim = one.trim
        yield upright((trim.left + trim.right) / 2, trim.top, trim.bottom, weight, dash)
        yield level((trim.top + trim.bottom) / 2, trim.left, trim.right, weight, dash)


def screen_marks(given: GuideInput) -> Iterator[Shape]:
    """A line where each screen of a vertical scroll, and with it a delivered slice, ends."""
    canvas, pen = given.page.boxes.canvas, given.pen
    for y in given.page.screens:
        yield level(y, canvas.left, canvas.right, pen.weight, pen.dash(8, 8))


def fold_strip(given: GuideInput) -> Iterator[Shape]:
    """What the fold may swallow: on a spread all of it, on a single page its half of it."""
    page, half = given.page, (given.page.book.furniture.fold_strip + 1) // 2
    trim, fold = page.boxes.trim, page.boxes.fold
    if not half:
        return
    if fold is not None:
        yield Rule(Box(fold - half, trim.top, fold + half, trim.bottom))
    elif page.side == "right":
        yield Rule(Box(trim.left, trim.top, trim.left + half, trim.bottom))
    elif page.side == "left":
        yield Rule(Box(trim.right - half, trim.top, trim.right, trim.bottom))


def trim_marks(given: GuideInput) -> Iterator[Shape]:
    """Short lines at the corners of the trim, from the edge of the canvas inward.

    They stop a third of the way before the trim (CSS Paged Media 3: marks put no ink near it).
    """
    boxes, weight = given.page.boxes, given.pen.weight
    trim, canvas = boxes.trim, boxes.canvas
    for x in (trim.left, trim.right, *boxes.all_folds):
        for near, far in ((trim.top, canvas.top), (trim.bottom, canvas.bottom)):
            begin, end = sorted((near + (far - near) // 3, far))
            if begin < end:
                yield upright(x, begin, end, weight)
    for y in (trim.top, trim.bottom):
        for near, far in ((trim.left, canvas.left), (trim.right, canvas.right)):
            begin, end = sorted((near + (far - near) // 3, far))
            if begin < end:
                yield level(y, begin, end, weight)


def safe_area(given: GuideInput) -> Iterator[Shape]:
    """Where lettering and faces stay."""
    pen = given.pen
    for safe in given.page.safe_areas:
        if safe != given.page.boxes.canvas:
            yield from outline(safe, pen.weight, pen.dash(6, 4), pen.weight // 2)


def trim(given: GuideInput) -> Iterator[Shape]:
    """The finished edge, and the fold of a spread."""
    pen, boxes = given.pen, given.page.boxes
    if boxes.trim != boxes.canvas:
        yield from outline(boxes.trim, pen.weight, (), pen.weight // 2)
    if boxes.fold is not None:
        yield upright(boxes.fold, boxes.trim.top, boxes.trim.bottom, pen.weight)


def bleed(given: GuideInput) -> Iterator[Shape]:
    """How far art must run beyond the trim."""
    pen, boxes = given.pen, given.page.boxes
    if boxes.bleed != boxes.trim:
        yield from outline(boxes.bleed, pen.weight, pen.dash(2, 2))
