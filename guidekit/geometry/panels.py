"""From places to panels: edges, borders, corners, insets, and the order in which they are read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from guidekit.errors import InputError, Problem
from guidekit.geometry.arrange import Placed
from guidekit.geometry.box import around
from guidekit.geometry.edges import EDGES, Setting, bled, broken_out, butted_sides
from guidekit.geometry.insets import lay_over
from guidekit.geometry.outline import shaped
from guidekit.geometry.page import Panel
from guidekit.issue.panel_model import Inset, PanelModel


def make_panels(
    placed: Sequence[Placed],
    special: Mapping[int, PanelModel],
    insets: Sequence[tuple[Inset, tuple[int, ...]]],
    setting: Setting,
) -> tuple[Panel, ...]:
    """All panels of a page with what is special about them, insets included, in reading order.

    `special` and the numbers of `insets` mean panels as they are numbered before insets are laid
    over them; an inset is read after the last of those it lies over. Raises `InputError`.
    """
    frame = around(place.box for place in placed)
    panels = []
    for place in placed:
        model = special.get(place.number, PanelModel())
        where = f"panel.{place.number}"
        limits, bleed = bled(place, model, frame, setting, where)
        limits = broken_out(place, limits, model, setting, where)
        butted = butted_sides(place, placed)
        panels.append(shaped(place, limits, bleed, model, setting, where, butted))
    _check_overlaps(panels, special)
    last = {}
    for index, (inset, over) in enumerate(insets):
        panels, number = lay_over(panels, placed, inset, over, index, setting)
        last[number] = max(over)
    reading = sorted(panels, key=lambda p: (last.get(p.number, p.number), p.number))
    first = min(place.number for place in placed)
    return tuple(replace(panel, number=i) for i, panel in enumerate(reading, first))


def _check_overlaps(panels: Sequence[Panel], special: Mapping[int, PanelModel]) -> None:
    """A panel that breaks out stays in the gutter; raises `InputError`."""
    breaking = [
        panel
        for panel in panels
        if panel.number in special
        and any(getattr(special[panel.number].break_out, edge) for edge in EDGES)
    ]
    problems = [
        Problem(
            f"panel.{panel.number}.break_out",
            f"it would run over panel {other.number}",
            "a length up to the width of the gutter",
        )
        for panel in breaking
        for other in panels
        if other is not panel and not panel.box.clipped(other.box).is_empty
    ]
    if problems:
        raise InputError(problems)
