"""The guides of a page as layers."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from guidekit.geometry.page import PagePlan
from guidekit.layers.guides.kind import Guide, GuideInput
from guidekit.layers.model import Group, Layer, all_layers
from guidekit.layers.palette import pen_for
from guidekit.raster.shapes import Shape
from guidekit.registry import Registry
from guidekit.units import half_up


def state_of(guide: Guide, page: PagePlan) -> str:
    """Whether a page has a guide: shown, hidden or off."""
    return dict(page.guides).get(guide.name, guide.state)


def guide_layers(page: PagePlan, guides: Registry[Guide]) -> tuple[Layer | Group, ...]:
    """The guides of a page that are not off and have something to show, the uppermost first."""
    given = GuideInput(page, pen_for(page))
    found: list[Layer | Group] = []
    named = {name for name, state in page.guides if state != "off"}
    for guide in sorted(guides.wanted(named), key=lambda guide: -guide.place):
        state = state_of(guide, page)
        if state == "off":
            continue
        seen = tuple(one for one in found if isinstance(one, Layer) and one.visible)
        drawn = _drawn(guide, replace(given, below=seen), state == "shown")
        covered = (layer.coverage(page.boxes.canvas).box for layer in all_layers((drawn,)))
        if not all(box.is_empty for box in covered):
            found.insert(0, drawn)
    return tuple(found)


def _drawn(guide: Guide, given: GuideInput, visible: bool) -> Layer | Group:
    parts = [*guide.draw(given)]
    if layers := tuple(_layers(guide, parts)):
        return Group(guide.layer, layers, visible, locked=True, label=guide.label)
    return Layer(
        guide.layer,
        tuple(part for part in parts if not isinstance(part, Layer)),
        guide.colour or given.ink,
        half_up(Fraction(guide.opacity * 255, 100)),
        visible,
        locked=True,
        label=guide.label,
    )


def _layers(guide: Guide, parts: Iterable[Shape | Layer]) -> Iterable[Layer]:
    return (
        replace(part, locked=True, label=guide.label) for part in parts if isinstance(part, Layer)
    )
