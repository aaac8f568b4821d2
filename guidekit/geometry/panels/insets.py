"""Panels laid over others, or measured within an area of the page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from guidekit.errors import InputError, Problem
from guidekit.geometry.division.arrange import Placed
from guidekit.geometry.division.region import Region
from guidekit.geometry.page import Panel
from guidekit.geometry.panels.butted import butted
from guidekit.geometry.panels.forms import Form, form_in
from guidekit.geometry.panels.free import box_at, check_seen, free_panel
from guidekit.geometry.panels.ground import Ground, PixelSize
from guidekit.geometry.panels.setting import Setting
from guidekit.geometry.panels.shape import Look, Reach, shaped
from guidekit.geometry.panels.stacking import INSET, Above, StackedPanel
from guidekit.issue.numbering import NumberedInset
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline, points_of


def lay_over(
    panels: Mapping[int, Panel], placed: Sequence[Placed], laid: NumberedInset, setting: Setting
) -> StackedPanel:
    """An inset as a panel; `panels` go by number. Raises `InputError`."""
    inset = laid.inset
    ground = _ground(laid, placed, setting)
    if not ground.points:
        came = "gutters leave nothing of the panels that this inset lies over"
        todo = "Lean or bend them less, or lay it over other panels."
        raise InputError(Problem((*laid.key, "over"), came, todo=todo))
    look = Look(setting.border_of(inset.border), setting.radius_of(inset.radius))
    gap = setting.gap if inset.gutter is None else setting.px(inset.gutter)
    borders = (panel.border for number, panel in panels.items() if number in laid.over)
    below = max((border.weight for border in borders if border), default=0)
    # with a gutter the border round the corner stays whole; without one it is the inset's own
    room = gap + below if gap or not look.weight else 0
    place = _place(laid, ground, room, setting)
    if inset.is_own:
        form = form_in(place, inset, setting, laid.key)
        panel = free_panel(laid.number, form, look.weight, setting, laid.key)
    else:
        assert isinstance(place, Box)  # only shapes of their own stand in all of a place
        check_seen(place, setting, laid.key)
        beside = {one.number: one.region for one in placed if one.number not in laid.over}
        against = butted(beside | {laid.number: Region(place, place)}, setting.flip)[laid.number]
        panel = shaped(laid.number, Reach(place, butted=against), look, laid.key)
        form = Form(points_of(panel.sharp), panel.radius)
    above = Above(form, gap, laid.over, wide=not laid.over)
    return StackedPanel(replace(panel, level=inset.level), laid.key, (above,), INSET, laid.index)


def place_of(laid: NumberedInset, placed: Sequence[Placed], setting: Setting) -> Outline:
    """Where an inset lies that is in no corner, or its shape stands."""
    return _place(laid, _ground(laid, placed, setting), 0, setting)


def _ground(laid: NumberedInset, placed: Sequence[Placed], setting: Setting) -> Ground:
    """What the inset is measured in."""
    boxes = setting.boxes
    areas = {"frame": boxes.safe_area, "trim": boxes.trim, "bleed": boxes.bleed}
    if laid.inset.within:
        return Ground(areas[laid.inset.within], areas[laid.inset.within], ())
    return Ground.of([place.region for place in placed if place.number in laid.over])


def _place(laid: NumberedInset, ground: Ground, room: int, setting: Setting) -> Outline:
    """Where an inset lies, or its shape stands: a box, or all of what it is measured in."""
    inset = laid.inset
    if not inset.corner and not inset.at:
        return ground.box if inset.points or inset.ellipse or ground.is_box else ground.points
    size = inset.width, inset.height
    corner = ground.corner("top-left")
    box = box_at(inset.at, size, ground.box, setting, corner)
    if not inset.corner:
        return box
    found = ground.in_corner(inset.corner, PixelSize(*box.size), 0 if inset.within else room)
    if not found:
        raise InputError(_no_room(laid, ground, box))
    return found


def _no_room(laid: NumberedInset, ground: Ground, box: Box) -> Problem:
    whole = ground.box
    where = "panels" if laid.over else laid.inset.within
    came = (
        f"an inset of {box.width} × {box.height} px has no room in the {laid.inset.corner} corner "
        f"of the {where} {whole.as_list()}{', whose sides are slanted' * bool(ground.cuts)}"
    )
    allowed = f"at most {whole.width} × {whole.height} px with its gutter, inside them"
    return Problem(laid.key, came, allowed, f"Make it smaller, or move it: {allowed}.")
