"""Every kind of guide as one function: a laid-out page in, one layer out.

A guide helps to draw and does not print. `GUIDES` lists the kinds from the uppermost down; an entry
of it is all that a new kind needs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import chain

from guidekit.geometry.box import Box
from guidekit.geometry.page import PagePlan
from guidekit.layers.model import Layer
from guidekit.layers.palette import (
    BLACK,
    BLUE,
    BLUISH_GREEN,
    ORANGE,
    REDDISH_PURPLE,
    SKY_BLUE,
    VERMILLION,
    Pen,
)
from guidekit.raster.shapes import Area, Rule, Shape, Stroke, outline
from guidekit.raster.text import Text, text_width
from guidekit.units import half_up


@dataclass(frozen=True)
class GuideInput:
    """What a guide may know: the page, and a pen that suits its size."""

    page: PagePlan
    pen: Pen

    @property
    def canvas(self) -> Box:
        """The whole canvas."""
        return self.page.sheet.canvas


def page_label(given: GuideInput) -> Layer:
    """Title, number, page, side, preset and note, in the widest margin above the safe area."""
    sheet, pen = given.page.sheet, given.pen
    gaps = [
        (sheet.bleed.top - sheet.canvas.top, sheet.canvas.top),
        (sheet.safe.top - sheet.trim.top, sheet.trim.top),
    ]
    room, top = max(gaps, key=lambda gap: gap[0])
    if room < 12:  # no margin to write in
        room, top = sheet.safe.height // 10, sheet.safe.top
    height = max(1, min(pen.capitals, room // 2))
    words, font = page_words(given.page), given.page.book.font
    width = text_width(words, height, font)
    if width > sheet.safe.width:
        height = max(1, height * sheet.safe.width // width)
    y = top + (room - height) // 2
    text = Text(words, sheet.safe.left, y, height, font)
    return Layer("Page label", (text,), BLACK)


def page_words(page: PagePlan) -> str:
    """What the page label says."""
    book = page.book
    title = book.title if book.number is None else f"{book.title} {book.number}"
    side = "" if page.side == "single" else page.side
    return "  ·  ".join(filter(None, (title, page.called, side, book.preset_title, page.note)))


def panel_numbers(given: GuideInput) -> Layer:
    """Each panel's number in reading order, in its upper left corner."""
    texts = []
    for panel in given.page.panels:
        box = panel.box.clipped(given.page.sheet.safe)
        size = min(given.pen.capitals * 3 // 2, box.width // 4, box.height // 4)
        if size >= 5:
            texts.append(Text(str(panel.number), box.left + size, box.top + size, size))
    return Layer("Panel numbers", tuple(texts), BLACK, opacity=153)


def lettering_lines(given: GuideInput) -> Layer:
    """Cap line and base line of every line of lettering that fits into the safe area."""
    book, thin = given.page.book, given.pen.weight // 2
    lines = (_ruled(box, book.capitals, book.space, thin) for box in given.page.safe_areas)
    shapes = tuple(chain.from_iterable(lines))
    return Layer("Lettering lines", shapes, BLUE, opacity=128, visible=False)


@lru_cache(maxsize=64)
def _ruled(box: Box, capitals: Fraction, space: Fraction, weight: int) -> tuple[Rule, ...]:
    """Pairs of lines `capitals` apart, with `space` between the pairs, from the top of a box."""
    rules: list[Rule] = []
    at = Fraction(box.top)
    while half_up(at + capitals) <= box.bottom and capitals >= 2:
        lines = (half_up(at), half_up(at + capitals))
        rules += [Rule(Box(box.left, y, box.right, y + weight)) for y in lines]
        at += capitals + space
    return tuple(rules)


def construction_lines(given: GuideInput) -> Layer:
    """The crossed diagonals of the frame, by which its middle and thirds are found with a ruler."""
    weight = given.pen.weight * 0.75
    shapes = []
    for frame in (given.page.frame,):
        left, top, right, bottom = frame.as_list()
        shapes += [
            Stroke((left, top), (right, bottom), weight),
            Stroke((left, bottom), (right, top), weight),
        ]
    return Layer("Construction lines", tuple(shapes), ORANGE, visible=False)


def centre_lines(given: GuideInput) -> Layer:
    """The middle of the page, across and down."""
    sheet = given.page.sheet
    dash = given.pen.dash(12, 3, 2, 3)
    shapes = []
    for trim, _ in sheet.halves:
        x, y = trim.left + trim.right, trim.top + trim.bottom  # twice the middle
        shapes += [
            Rule(Box(*_around(x, given.pen.weight, trim.top, trim.bottom, upright=True)), dash),
            Rule(Box(*_around(y, given.pen.weight, trim.left, trim.right, upright=False)), dash),
        ]
    return Layer("Centre lines", tuple(shapes), REDDISH_PURPLE, visible=False)


def _around(
    twice: int, weight: int, start: int, end: int, upright: bool
) -> tuple[int, int, int, int]:
    """A line centred on half of `twice`; a pixel heavier where that lies within a pixel."""
    low, high = (twice - weight) // 2, -((-twice - weight) // 2)
    return (low, start, high, end) if upright else (start, low, end, high)


def safe_area(given: GuideInput) -> Layer:
    """Where lettering and faces stay."""
    pen = given.pen
    lines = (
        outline(safe, pen.weight, pen.dash(6, 4), pen.weight // 2)
        for _, safe in given.page.sheet.halves
        if safe != given.page.sheet.canvas
    )
    return Layer("Safe area", tuple(chain.from_iterable(lines)), BLUISH_GREEN)


def trim(given: GuideInput) -> Layer:
    """The finished edge, and the fold of a spread."""
    pen, sheet = given.pen, given.page.sheet
    shapes: list[Shape] = []
    if sheet.trim != sheet.canvas:
        shapes += outline(sheet.trim, pen.weight, (), pen.weight // 2)
    if sheet.fold is not None:
        box = _around(2 * sheet.fold, pen.weight, sheet.trim.top, sheet.trim.bottom, upright=True)
        shapes.append(Rule(Box(*box)))
    return Layer("Trim", tuple(shapes), VERMILLION)


def bleed(given: GuideInput) -> Layer:
    """How far art must run beyond the trim."""
    pen, sheet = given.pen, given.page.sheet
    if sheet.bleed == sheet.trim:
        return Layer("Bleed", (), BLUE)
    return Layer("Bleed", outline(sheet.bleed, pen.weight, pen.dash(2, 2)), BLUE)


def gutters(given: GuideInput) -> Layer:
    """A tint over the gaps between panels."""
    holes = tuple(Rule(panel.box) for panel in given.page.panels)
    area = Area((Rule(given.page.frame),), holes)
    return Layer("Gutters", (area,), SKY_BLUE, opacity=102)


def screen_marks(given: GuideInput) -> Layer:
    """A line at every screen's height of a vertical scroll."""
    return Layer("Screen marks", tuple(_screens(given.page, given.pen)), REDDISH_PURPLE)


def _screens(page: PagePlan, pen: Pen) -> Iterator[Rule]:
    screen = page.book.screen
    if screen:
        canvas, at = page.sheet.canvas, screen
        while at < canvas.bottom:
            y = 2 * half_up(at)
            box = _around(y, pen.weight, canvas.left, canvas.right, upright=False)
            yield Rule(Box(*box), pen.dash(8, 8))
            at += screen


#: The kinds of guides, the uppermost first; those that draw nothing on a page are left out there.
GUIDES: tuple[Callable[[GuideInput], Layer], ...] = (
    page_label,
    panel_numbers,
    lettering_lines,
    construction_lines,
    centre_lines,
    screen_marks,
    safe_area,
    trim,
    bleed,
    gutters,
)
