"""From places to panels: edges, borders, corners, insets, perspective."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from guidekit.errors import InputError, Key, Problem
from guidekit.geometry.arrange import Placed
from guidekit.geometry.butted import Butted, butted
from guidekit.geometry.edges import broken_out
from guidekit.geometry.insets import lay_over
from guidekit.geometry.page import Panel
from guidekit.geometry.perspective import view_in
from guidekit.geometry.setting import Setting
from guidekit.geometry.shape import Look, Reach, shaped
from guidekit.issue.numbering import NumberedInset
from guidekit.issue.panel_model import PLAIN_PANEL, PanelModel
from guidekit.plane.box import EDGES, Edge
from guidekit.plane.meeting import meeting
from guidekit.plane.outline import points_of
from guidekit.plane.polygon import Side, common_area, side_at


@dataclass(frozen=True)
class Wish:
    """What is special about one panel: its name in the file, what stands there, where it bleeds."""

    name: str
    model: PanelModel
    bleed: frozenset[Edge]

    @property
    def key(self) -> Key:
        """Leads to it on its page."""
        return ("panel", self.name)


def make_panels(
    placed: Sequence[Placed],
    wishes: Mapping[int, Wish],
    insets: Sequence[NumberedInset],
    setting: Setting,
) -> tuple[Panel, ...]:
    """All panels of a canvas in reading order, insets included; `wishes` go by number.

    Raises `InputError`.
    """
    plain = {p.number: Wish(str(p.number), PLAIN_PANEL, frozenset()) for p in placed}
    wishes = plain | dict(wishes)
    neighbours = butted({place.number: place.region for place in placed}, setting.flip)
    panels = [
        _panel(place, wishes[place.number], neighbours[place.number], setting) for place in placed
    ]
    _check_overlaps(panels, wishes)
    for inset in insets:
        panels = lay_over(panels, placed, inset, setting)
    return tuple(sorted(panels, key=lambda panel: panel.number))


def _panel(place: Placed, wish: Wish, against: Butted, setting: Setting) -> Panel:
    region, model = place.region, wish.model
    out = (wish.bleed | region.open) if wish.bleed else wish.bleed
    limits = replace(region.limits, **{edge: getattr(setting.bleed, edge) for edge in out})
    limits = broken_out(region, limits, model, setting, wish.key)
    reach = Reach(limits, region.cuts, out, against)
    look = Look(setting.border_of(model.border), setting.radius_of(model.radius))
    panel = shaped(place.number, reach, look, wish.key)
    reached = frozenset(edge for edge in out - wish.bleed if _lies_at(side_at(limits, edge), panel))
    panel = replace(panel, bleed=wish.bleed | reached)
    if not model.perspective:
        return panel
    key = (*wish.key, "perspective")
    return replace(panel, view=view_in(place.box, model.perspective, setting.dpi, key))


def _lies_at(side: Side, panel: Panel) -> bool:
    """True if one of the panel's edges lies on a line."""
    return sum(abs(side.beyond(point)) < 1e-6 for point in points_of(panel.sharp)) > 1


def _check_overlaps(panels: Sequence[Panel], wishes: Mapping[int, Wish]) -> None:
    """A panel that breaks out stays in the gutter; raises `InputError`."""
    bold = {i for i, panel in enumerate(panels) if _breaks_out(wishes[panel.number].model)}
    over = (
        (i, j)
        for pair in (meeting([panel.box for panel in panels]) if bold else ())
        for i, j in (pair, pair[::-1])
        if i in bold and _overlap(panels[i], panels[j])
    )
    problems = [
        Problem(
            (*wishes[panels[i].number].key, "break_out"),
            f"the panel would run over panel {panels[j].number}",
            "a length up to the width of the gutter",
        )
        for i, j in sorted(over)
    ]
    if problems:
        raise InputError(problems)


def _overlap(panel: Panel, other: Panel) -> bool:
    return common_area(points_of(panel.outline), points_of(other.outline)) > 1e-6


def _breaks_out(model: PanelModel) -> bool:
    return any(getattr(model.break_out, edge) for edge in EDGES)
