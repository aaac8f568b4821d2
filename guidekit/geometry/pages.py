"""A page or a spread with its panels on its canvas."""

from __future__ import annotations

from dataclasses import dataclass, replace

from guidekit.errors import InputError, Key, Problem
from guidekit.geometry.canvas import Canvas
from guidekit.geometry.column import screen_ends
from guidekit.geometry.division.arrange import Arrangement, Placed, arrange
from guidekit.geometry.gutters import gutters_beyond
from guidekit.geometry.page_boxes import PageBoxes
from guidekit.geometry.panels.edges import at_the_edge, edges_by_name, running_out
from guidekit.geometry.panels.made import PanelWish, make_panels
from guidekit.geometry.refill import Letters, on_one_page, one_after_the_other
from guidekit.geometry.rules import Rules
from guidekit.issue.models.issue import Page
from guidekit.issue.models.panel import PLAIN_PANEL
from guidekit.issue.models.part import Part
from guidekit.issue.numbering import Numbering, PanelEntry, numbered
from guidekit.issue.order import PageEntry
from guidekit.issue.reading import Reader
from guidekit.plane.box import Box, Edge


def page_canvas(entry: PageEntry, rules: Rules) -> Canvas:
    """The canvas of a page or spread; raises `InputError` where something cannot fit."""
    page, boxes = entry.page, rules.boxes_of(entry)
    found, letters = _filled(page, boxes, rules)
    if found and not any(one.panels for one in found):
        came = "no panel is on this page, for all its places are empty"
        raise InputError(Problem((), came, "at least one panel"))
    numbering = numbered(page, sum(len(one.panels) for one in found), letters)
    found = [_renumbered(one, numbering) for one in found]
    placed = [place for one in found for place in one.panels]
    wishes = _wishes(placed, numbering, page, boxes)
    panels = make_panels(placed, wishes, numbering.insets, rules.setting(page, boxes))
    by_number = {panel.number: panel for panel in panels}
    beyond = [box for one in found for box in gutters_beyond(one, by_number, boxes.bleed)]
    return Canvas(
        boxes,
        frames=(*(one.frame for one in found), *beyond),
        panels=panels,
        divisions=tuple(division for one in found for division in one.divisions),
        screens=_screens(boxes, rules),
        empty=tuple(region.outline for one in found for region in one.empty),
    )


def _filled(page: Page, boxes: PageBoxes, rules: Rules) -> tuple[list[Arrangement], Letters]:
    """What fills the frames of a page in reading order, and the panels of each letter."""
    reader = rules.reader(spread=page.spread and not page.halves)
    found = [_arranged(field, page, reader, rules) for field in fields_of(page, boxes, rules)]
    if not (page.spread and (page.on_left or page.on_right)):
        return found, reader.letters
    filled: list[tuple[list[Arrangement], Letters]] = []
    for part, field in zip((page.on_left, page.on_right), _halves(page, boxes), strict=True):
        if part:
            own = rules.reader(spread=False)
            arranged = _arranged(replace(field, part=part), page, own, rules)
            filled.append(([arranged], own.letters))
        else:
            trim = boxes.pages[len(filled)].trim
            kept = (on_one_page(one, trim) for one in found)
            there = [one for one in kept if not one.frame.is_empty]
            filled.append((there, reader.letters))
    return one_after_the_other(filled if rules.direction == "ltr" else filled[::-1])


@dataclass(frozen=True)
class FilledFrame:
    """A frame on a canvas and the part of a page that fills it.

    `flip` says that what lies across is laid out from the right, `fold` on which side the frame
    meets the other half of a spread, `key` leads to the part on its page.
    """

    part: Part
    frame: Box
    flip: bool
    fold: Edge | None = None
    key: Key = ()


def fields_of(page: Page, boxes: PageBoxes, rules: Rules) -> tuple[FilledFrame, ...]:
    """The whole page, or both halves of a spread in reading order; none on a bare page."""
    if not page.contents:
        return ()
    if not page.halves:
        return (FilledFrame(page, boxes.safe_area, boxes.flip),)
    halves = tuple(
        replace(field, part=half, key=("halves", n))
        for n, (field, half) in enumerate(zip(_halves(page, boxes), page.halves, strict=True))
    )
    return halves if rules.direction == "ltr" else halves[::-1]


def _halves(page: Page, boxes: PageBoxes) -> tuple[FilledFrame, FilledFrame]:
    """The frames of both pages of a spread, the left one first."""
    left, right = boxes.pages
    return (
        FilledFrame(page, left.safe_area, left.flip, fold="right", key=("on_left",)),
        FilledFrame(page, right.safe_area, right.flip, fold="left", key=("on_right",)),
    )


def _arranged(field: FilledFrame, page: Page, reader: Reader, rules: Rules) -> Arrangement:
    node = reader.read(field.part, key=field.key)
    found = arrange(node, field.frame, rules.spacing(page, field.flip))
    if not field.fold:
        return found
    panels = (replace(p, region=p.region.apart_from(field.fold)) for p in found.panels)
    return replace(found, panels=tuple(panels))


def _renumbered(found: Arrangement, numbering: Numbering) -> Arrangement:
    """Panels by the numbers that are printed on the page."""
    panels = (replace(p, number=numbering.panels[p.number - 1]) for p in found.panels)
    return replace(found, panels=tuple(panels))


def _wishes(
    placed: list[Placed], numbering: Numbering, page: Page, boxes: PageBoxes
) -> dict[int, PanelWish]:
    """What is special about panels, by number; names of sides become edges of the canvas here."""
    names = edges_by_name(boxes)
    wishes: dict[int, PanelWish] = {}
    problems: list[Problem] = []
    for place in placed:
        number, region = place.number, place.region
        entry = numbering.entries.get(number) or PanelEntry(str(number), PLAIN_PANEL)
        bleed, key = at_the_edge(region, page.bleed or (), names), ("panel", entry.name, "bleed")
        try:
            if entry.model.bleed is not None:
                bleed = running_out(region, entry.model.bleed, names, key)
            wishes[number] = PanelWish(entry.name, entry.model, bleed)
        except InputError as error:
            problems += error.problems
    if page.bleed and not any(at_the_edge(p.region, page.bleed, names) for p in placed):
        came = "no panel lies at the edge of the page there"
        problems.append(Problem(("bleed",), came, "a side that panels have", "Leave it out."))
    if problems:
        raise InputError(problems)
    return wishes


def _screens(boxes: PageBoxes, rules: Rules) -> tuple[int, ...]:
    """Where screens end on a page of panels in a format for scrolls."""
    if not rules.preset.scroll:
        return ()
    screen = rules.preset.scroll.screen.px(rules.book.dpi)
    return screen_ends(screen, 0, boxes.canvas.height)
