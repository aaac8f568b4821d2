"""From places to panels: edges, borders, corners, insets, perspective."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

from guidekit.errors import Key
from guidekit.geometry.division.arrange import Placed
from guidekit.geometry.page import Panel
from guidekit.geometry.panels.butted import Butted, butted
from guidekit.geometry.panels.edges import broken_out
from guidekit.geometry.panels.forms import Form, form_in
from guidekit.geometry.panels.free import figures_of, free_panel
from guidekit.geometry.panels.insets import lay_over
from guidekit.geometry.panels.perspective import view_in
from guidekit.geometry.panels.setting import Setting
from guidekit.geometry.panels.shape import Look, Reach, shaped
from guidekit.geometry.panels.stacking import FREE, PLAIN, Above, StackedPanel, stacked
from guidekit.issue.models.panel import PLAIN_PANEL, PanelModel
from guidekit.issue.numbering import NumberedInset
from guidekit.plane.bend import Bend
from guidekit.plane.box import EDGES, Edge
from guidekit.plane.outline import Outline, box_of, points_of
from guidekit.plane.polygon import HalfPlane, Points, side_at
from guidekit.plane.rings import rings_of, without


class PanelWish(NamedTuple):
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
    wishes: Mapping[int, PanelWish],
    insets: Sequence[NumberedInset],
    setting: Setting,
) -> tuple[Panel, ...]:
    """All panels of a canvas in reading order, insets included; `wishes` go by number.

    Raises `InputError`.
    """
    plain = {p.number: PanelWish(str(p.number), PLAIN_PANEL, frozenset()) for p in placed}
    wishes = plain | dict(wishes)
    neighbours = _neighbours(placed, wishes, setting)
    laid = [_laid(place, wishes[place.number], neighbours, setting) for place in placed]
    panels = {one.panel.number: one.panel for one in laid}
    laid += [lay_over(panels, placed, inset, setting) for inset in insets]
    return stacked(laid)


def _neighbours(
    placed: Sequence[Placed], wishes: Mapping[int, PanelWish], setting: Setting
) -> dict[int, Butted]:
    """Where panels share borders: those with a shape of their own do not.

    Nor do those that break out on a side on which they would.
    """
    regions = {p.number: p.region for p in placed if not wishes[p.number].model.is_own}
    found = butted(regions, setting.flip)
    leaving = {n for n, at in found.items() if _edges_left(wishes[n].model) & at.sides}
    if leaving:
        kept = {number: region for number, region in regions.items() if number not in leaving}
        found = butted(kept, setting.flip)
    return found


def _edges_left(model: PanelModel) -> set[Edge]:
    """The edges at which a panel breaks out."""
    return {edge for edge in EDGES if getattr(model.break_out, edge)}


def _laid(
    place: Placed, wish: PanelWish, neighbours: Mapping[int, Butted], setting: Setting
) -> StackedPanel:
    """A panel of the layout, and what it may cut out of others."""
    model = wish.model
    panel, own = _panel(place, wish, neighbours.get(place.number, Butted()), setting)
    figures = figures_of(model.figures, box_of(panel.sharp), setting, wish.key)
    panel = replace(panel, level=model.level, figures=figures)
    if model.perspective:
        key = (*wish.key, "perspective")
        panel = replace(panel, view=view_in(place.box, model.perspective, setting.dpi, key))
    others = (
        Above(Form(points_of(figure.outline)), figure.gap, wide=True)
        for figure in figures
        if figure.gap is not None
    )
    free = model.is_own or _edges_left(model) or figures
    return StackedPanel(panel, wish.key, (own, *others), FREE if free else PLAIN, place.number)


def _panel(
    place: Placed, wish: PanelWish, against: Butted, setting: Setting
) -> tuple[Panel, Above]:
    """A panel where it lies, and what it cuts out of others that it meets.

    One with a shape of its own that leaves its place keeps its margin all round.
    """
    region, model = place.region, wish.model
    out = (wish.bleed | region.open) if wish.bleed else wish.bleed
    limits = replace(region.limits, **{edge: getattr(setting.bleed, edge) for edge in out})
    limits = broken_out(region, limits, model, setting, wish.key)
    reach = Reach.of(region, limits, out, against)
    look = Look(setting.border_of(model.border), setting.radius_of(model.radius))
    sharp = reach.sharp()
    ends = tuple(side_at(limits, edge) for edge in out)
    if model.is_own and sharp:
        form = form_in(sharp, model, setting, wish.key, ends)
        panel = free_panel(place.number, form, look.weight, setting, wish.key)
        leaves = bool(without(rings_of([panel.outline]), rings_of([sharp])))
    else:
        panel, leaves = shaped(place.number, reach, look, wish.key), False
        bent = [cut for cut in region.cuts if isinstance(cut, Bend)]
        panel = replace(panel, arcs=_arcs(panel.sharp, bent))
        corners, radius = (panel.outline, 0) if bent else (panel.sharp, panel.radius)
        form = Form(points_of(corners), radius, ends=ends)
    reached = frozenset(edge for edge in out - wish.bleed if _lies_at(side_at(limits, edge), panel))
    panel = replace(panel, bleed=wish.bleed | reached)
    return panel, Above(form, setting.gap, wide=leaves)


def _arcs(sharp: Outline, bends: Sequence[Bend]) -> tuple[Points, ...]:
    """The corners of an outline that lie on the arcs among these lines."""
    runs = (bend.on_it(points_of(sharp)) for bend in bends if bend.round)
    return tuple(tuple(point for _, point in run) for run in runs if len(run) > 2)


def _lies_at(side: HalfPlane, panel: Panel) -> bool:
    """True if one of the panel's edges lies on a line."""
    return sum(abs(side.beyond(point)) < 1e-6 for point in points_of(panel.sharp)) > 1
