"""Every kind of guide as one function: a laid-out page in, the shapes of one layer out.

A guide helps to draw and does not print. `KINDS` lists the kinds by the names under which presets,
issues and pages switch them; an entry there, and one in `guidekit.preset.guides`, is all that a new
kind needs.
"""

from __future__ import annotations

from collections.abc import Iterator

from guidekit.geometry.page import PagePlan
from guidekit.layers.guides import construction, label, numbers, pages, panels
from guidekit.layers.guides.kind import GuideInput, Kind
from guidekit.layers.model import Layer
from guidekit.layers.palette import (
    BLACK,
    BLUE,
    BLUISH_GREEN,
    ORANGE,
    REDDISH_PURPLE,
    SKY_BLUE,
    VERMILLION,
    pen_for,
)

KINDS: dict[str, Kind] = {
    "page_label": Kind("Page label", BLACK, label.page_label),
    "panel_numbers": Kind("Panel numbers", BLACK, numbers.panel_numbers, opacity=153),
    "lettering_lines": Kind("Lettering lines", BLUE, panels.lettering_lines, opacity=128),
    "perspective": Kind("Perspective", REDDISH_PURPLE, construction.perspective, opacity=166),
    "square_grid": Kind("Square grid", SKY_BLUE, construction.square_grid),
    "construction_lines": Kind("Construction lines", ORANGE, construction.construction_lines),
    "diagonals": Kind("Diagonals", SKY_BLUE, panels.diagonals),
    "thirds": Kind("Thirds", BLUISH_GREEN, panels.thirds),
    "panel_centre_lines": Kind("Panel centre lines", REDDISH_PURPLE, panels.centre_lines),
    "centre_lines": Kind("Centre lines", REDDISH_PURPLE, pages.centre_lines),
    "screen_marks": Kind("Screen marks", REDDISH_PURPLE, pages.screen_marks),
    "fold_strip": Kind("Fold strip", ORANGE, pages.fold_strip, opacity=89),
    "trim_marks": Kind("Trim marks", BLACK, pages.trim_marks),
    "safe_area": Kind("Safe area", BLUISH_GREEN, pages.safe_area),
    "trim": Kind("Trim", VERMILLION, pages.trim),
    "bleed": Kind("Bleed", BLUE, pages.bleed),
    "gutters": Kind("Gutters", SKY_BLUE, panels.gutters, opacity=102),
}


def guide_layers(page: PagePlan) -> Iterator[Layer]:
    """The guides of a page that are not switched off and have something to show."""
    given = GuideInput(page, pen_for(page))
    for name, state in page.guides:
        kind = KINDS[name]
        layer = Layer(
            kind.layer,
            tuple(kind.draw(given)),
            kind.colour,
            kind.opacity,
            visible=state == "shown",
            locked=True,
            label="blue",
        )
        if not layer.coverage(page.boxes.canvas).box.is_empty:
            yield layer
