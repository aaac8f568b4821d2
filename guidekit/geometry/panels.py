"""From places to panels: edges, borders, corners, insets, and the order in which they are read."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from guidekit.errors import InputError, Problem
from guidekit.geometry.arrange import Placed
from guidekit.geometry.edges import EDGES, Setting, bled, broken_out, butted
from guidekit.geometry.insets import lay_over
from guidekit.geometry.page import Panel
from guidekit.geometry.shape import shaped
from guidekit.issue.panel_model import Inset, PanelModel
from guidekit.plane.box import around
from guidekit.plane.outline import points_of
from guidekit.plane.polygon import common_area


def make_panels(
    placed: Sequence[Placed],
    special: Mapping[int, tuple[str, PanelModel]],
    insets: Sequence[tuple[Inset, tuple[int, ...]]],
    setting: Setting,
) -> tuple[Panel, ...]:
    """All panels of a page with what is special about them, insets included, in reading order.

    `special` has the key in the file and what stands under it; it and the numbers of `insets` mean
    panels as they are numbered before insets are laid over them; an inset is read after the last of
    those it lies over. Raises `InputError`.
    """
    frame = around(place.box for place in placed)
    panels = []
    for place in placed:
        key, model = special.get(place.number, (place.number, PanelModel()))
        where = f"panel.{key}"
        limits, bleed = bled(place, model, frame, setting, where)
        limits = broken_out(place, limits, model, frame, setting, where)
        against = butted(place, placed)
        panels.append(shaped(place, limits, bleed, model, setting, where, against))
    _check_overlaps(panels, special)
    for index, (inset, over) in enumerate(insets, 1):
        panels = lay_over(panels, placed, inset, over, setting, f"insets[{index}]")
    reading = sorted(panels, key=lambda panel: panel.number)  # an inset stays behind its panel
    first = min(place.number for place in placed)
    return tuple(replace(panel, number=i) for i, panel in enumerate(reading, first))


def _check_overlaps(panels: Sequence[Panel], special: Mapping[int, tuple[str, PanelModel]]) -> None:
    """A panel that breaks out stays in the gutter; raises `InputError`."""
    problems = [
        Problem(
            f"panel.{special[panel.number][0]}.break_out",
            f"it would run over panel {other.number}",
            "a length up to the width of the gutter",
        )
        for panel in panels
        if panel.number in special and _breaks_out(special[panel.number][1])
        for other in panels
        if other is not panel and _overlap(panel, other)
    ]
    if problems:
        raise InputError(problems)


def _overlap(panel: Panel, other: Panel) -> bool:
    return common_area(points_of(panel.outline), points_of(other.outline)) > 1e-6


def _breaks_out(model: PanelModel) -> bool:
    return any(getattr(model.break_out, edge) for edge in EDGES)
