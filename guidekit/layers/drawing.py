"""The empty layers to draw on: for the whole page, in groups, and for each panel by itself."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import NamedTuple

from guidekit.geometry.book import DrawingLayer
from guidekit.geometry.page import PagePlan, Panel
from guidekit.layers.model import Group, Layer, all_layers
from guidekit.layers.panels import panel_area

Members = tuple[Layer | Group, ...]
Run = tuple[DrawingLayer, ...]


class DrawingLayers(NamedTuple):
    """The layers to draw on above the panel borders and below them, the uppermost first.

    `first` is the one to draw on first: the first that the preset lists, on its first panel if
    every panel has it for itself. None if there is none.
    """

    above: Members
    below: Members
    first: Layer | None


def drawing_layers(page: PagePlan) -> DrawingLayers:
    """All layers to draw on, in the order in which the preset lists them.

    Layers of one group stand together where the first of them is listed. Layers that every panel
    has for itself become, where they are listed one after the other, one masked group a panel.
    """
    drawing = page.book.furniture.drawing
    above = _runs(one for one in drawing if one.above_borders)
    below = _runs(one for one in drawing if not one.above_borders)
    several = sum(run[0].own for run in above + below) > 1

    def members(runs: Iterable[Run]) -> Members:
        return tuple(one for run in runs for one in _members(run, page.panels, several))

    found = members(above), members(below)
    order = found if drawing[0].above_borders else found[::-1]
    return DrawingLayers(*found, first=next(all_layers(order[0] + order[1]), None))


def _runs(drawing: Iterable[DrawingLayer]) -> list[Run]:
    """Layers in runs that are for the whole page, and runs that are for each panel."""
    places: dict[object, list[DrawingLayer]] = {}
    for number, one in enumerate(drawing):
        places.setdefault((one.own, one.group) if one.group else number, []).append(one)
    gathered = (one for found in places.values() for one in found)
    return [tuple(run) for _, run in groupby(gathered, key=lambda one: one.own)]


def _members(run: Run, panels: Iterable[Panel], several: bool) -> Iterator[Layer | Group]:
    """A run as layers and groups; masks keep what is drawn for a panel inside it.

    Where there are `several` runs for each panel, the first layer's name tells its groups apart.
    """
    if not run[0].own:
        yield from _in_groups(run)
        return
    for panel in panels:
        name = f"Panel {panel.number} {run[0].name}" if several else f"Panel {panel.number}"
        yield Group(name, tuple(_in_groups(run, f" {panel.number}")), mask=(panel_area(panel),))


def _in_groups(run: Run, suffix: str = "") -> Iterator[Layer | Group]:
    for group, found in groupby(run, key=lambda one: one.group):
        layers = tuple(
            Layer(one.name + suffix, opacity=one.opacity, blend=one.blend) for one in found
        )
        if group:
            yield Group(group + suffix, layers)
        else:
            yield from layers
