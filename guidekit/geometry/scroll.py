"""The canvases of a vertical scroll with their panels."""

from __future__ import annotations

from collections.abc import Iterator

from guidekit.errors import InputError, Key
from guidekit.geometry.canvas import Canvas
from guidekit.geometry.column import ItemPlace, Stretch, stretches
from guidekit.geometry.division.arrange import Arrangement, Division, arrange
from guidekit.geometry.page import Panel
from guidekit.geometry.panels.made import PanelWish, make_panels
from guidekit.geometry.rules import Rules
from guidekit.issue.models.issue import Page, ScrollItem
from guidekit.issue.models.panel import PanelModel
from guidekit.issue.reading import Reader
from guidekit.plane.box import Edge
from guidekit.plane.outline import Outline

SIDES: frozenset[Edge] = frozenset({"left", "right"})


def scroll_canvases(page: Page, items: tuple[ScrollItem, ...], rules: Rules) -> Iterator[Canvas]:
    """The canvases of one scroll, from the top down; raises `InputError`."""
    reader = rules.reader()
    for stretch in stretches(items, rules.preset):
        yield _canvas(stretch, page, reader, rules)


def _canvas(stretch: Stretch, page: Page, reader: Reader, rules: Rules) -> Canvas:
    panels: list[Panel] = []
    divisions: list[Division] = []
    empty: list[Outline] = []
    for place in stretch.places:
        key = ("scroll", place.number - 1, "inside")
        found = _arranged(place, reader, key, rules)
        try:
            panels += _panels(place, found, page, stretch, rules)
        except InputError as error:
            raise InputError(problem.below(key) for problem in error.problems) from None
        divisions += found.divisions
        empty += (region.outline for region in found.empty)
    frames = tuple(place.box for place in stretch.places)
    return Canvas(
        stretch.boxes, frames, tuple(panels), tuple(divisions), stretch.screens, tuple(empty)
    )


def _arranged(place: ItemPlace, reader: Reader, key: Key, rules: Rules) -> Arrangement:
    inside = place.item.inside
    node = reader.read(inside, axis="across", key=key)
    return arrange(node, place.box, rules.spacing(inside, flip=False))


def _panels(
    place: ItemPlace, found: Arrangement, page: Page, stretch: Stretch, rules: Rules
) -> tuple[Panel, ...]:
    """The panels of one place; those of full width run off the canvas on the sides."""
    wishes = {}
    if place.item.full:
        wishes = {
            p.number: PanelWish(str(p.number), PanelModel(), p.region.ends & SIDES)
            for p in found.panels
        }
    return make_panels(found.panels, wishes, (), rules.setting(page, stretch.boxes))
