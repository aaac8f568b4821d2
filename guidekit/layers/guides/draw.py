"""The guides of a page as layers."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from guidekit.geometry.page import PagePlan
from guidekit.layers.guides.kind import Guide, GuideInput
from guidekit.layers.model import Layer
from guidekit.layers.palette import pen_for
from guidekit.registry import Registry
from guidekit.units import half_up


def state_of(guide: Guide, page: PagePlan) -> str:
    """Whether a page has a guide: shown, hidden or off."""
    return dict(page.guides).get(guide.name, guide.state)


def guide_layers(page: PagePlan, guides: Registry[Guide]) -> Iterator[Layer]:
    """The guides of a page that are not off and have something to show, the uppermost first."""
    given = GuideInput(page, pen_for(page))
    for guide in sorted(guides.things(), key=lambda guide: guide.place):
        state = state_of(guide, page)
        if state == "off":
            continue
        layer = Layer(
            guide.layer,
            tuple(guide.draw(given)),
            guide.colour,
            half_up(Fraction(guide.opacity * 255, 100)),
            visible=state == "shown",
            locked=True,
            label=guide.label,
        )
        if not layer.coverage(page.boxes.canvas).box.is_empty:
            yield layer
