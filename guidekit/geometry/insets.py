"""Panels laid over others, with a clear margin cut out of what lies below."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from guidekit.errors import InputError, Problem
from guidekit.geometry.arrange import Placed
from guidekit.geometry.butted import butted
from guidekit.geometry.ground import Ground, Size
from guidekit.geometry.page import Panel
from guidekit.geometry.region import Region
from guidekit.geometry.setting import Setting
from guidekit.geometry.shape import Look, Reach, shaped
from guidekit.issue.numbering import NumberedInset
from guidekit.issue.panel_model import Inset
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline, points_of
from guidekit.plane.polygon import common_area, corners, rounded
from guidekit.units import half_up


def lay_over(
    panels: Sequence[Panel], placed: Sequence[Placed], laid: NumberedInset, setting: Setting
) -> list[Panel]:
    """Add one inset, cut out of the panels that it lies over; raises `InputError`."""
    inset = laid.inset
    ground = Ground.of([place.region for place in placed if place.number in laid.over])
    look = Look(setting.border_of(inset.border), setting.radius_of(inset.radius))
    gap = setting.gap if inset.gutter is None else setting.px(inset.gutter)
    below = max(p.border.weight if p.border else 0 for p in panels if p.number in laid.over)
    # with a gutter the border round the corner stays whole; without one it is the inset's own
    room = gap + below if gap or not look.weight else 0
    size = _size(inset, ground, setting)
    box = _box(inset, ground, size, room, setting)
    if not box or box.is_empty or not ground.holds(box):
        raise InputError(_no_room(laid, ground, size, box))
    beside = {place.number: place.region for place in placed if place.number not in laid.over}
    against = butted(beside | {laid.number: Region(box, box)}, setting.flip)[laid.number]
    hole = _hole(box, gap, look.radius)
    cut = [
        replace(panel, cut_out=(*panel.cut_out, hole))
        if _lies_below(panel, box, hole, panel.number in laid.over)
        else panel
        for panel in panels
    ]
    return [*cut, shaped(laid.number, Reach(box, butted=against), look, laid.key)]


def _size(inset: Inset, ground: Ground, setting: Setting) -> Size:
    """Percentages are of the panels as if all gutters were straight."""
    return Size(
        half_up(inset.width.fixed(ground.box.width, setting.dpi) or Fraction(0)),
        half_up(inset.height.fixed(ground.box.height, setting.dpi) or Fraction(0)),
    )


def _box(inset: Inset, ground: Ground, size: Size, room: int, setting: Setting) -> Box | None:
    """Where an inset lies; None if it has no room in its corner."""
    if inset.corner:
        return ground.in_corner(inset.corner, size, room)
    assert inset.at  # one of the two is there, as the model checks
    x, y = ground.corner("top-left")
    left = half_up(Fraction(x) + inset.at[0].px(0, ground.box.width, setting.dpi))
    top = half_up(Fraction(y) + inset.at[1].px(0, ground.box.height, setting.dpi))
    return Box(left, top, left + size.width, top + size.height)


def _no_room(laid: NumberedInset, ground: Ground, size: Size, box: Box | None) -> Problem:
    whole = ground.box
    came = (
        f"the inset {box.as_list()} does not lie inside"
        if box
        else (
            f"an inset of {size.width} × {size.height} px has no room in the {laid.inset.corner} "
            "corner of"
        )
    )
    came += f" the panels {whole.as_list()}{', whose sides are slanted' * bool(ground.cuts)}"
    allowed = f"at most {whole.width} × {whole.height} px with its gutter, inside them"
    return Problem(laid.key, came, allowed, f"Make it smaller, or move it: {allowed}.")


def _hole(box: Box, gap: int, radius: int) -> Outline:
    """What is cut out for an inset and its margin."""
    margin = box.inset(-gap)
    if not radius:
        return margin
    return rounded(corners(margin), radius + gap, lambda point: False) or margin


def _lies_below(panel: Panel, box: Box, hole: Outline, named: bool) -> bool:
    """Whether a panel is cut: one that the inset names by its margin, others by the inset."""
    over = points_of(hole) if named else corners(box)
    return common_area(points_of(panel.outline), over) > 1e-6
