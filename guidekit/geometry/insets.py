"""Panels laid over others, with a clear margin cut out of what lies below."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from guidekit.errors import InputError, Problem
from guidekit.geometry.arrange import Placed
from guidekit.geometry.page import Panel
from guidekit.geometry.setting import Setting
from guidekit.geometry.shape import Look, Reach, shaped
from guidekit.issue.numbering import NumberedInset
from guidekit.issue.panel_model import Inset
from guidekit.plane.box import Box, around
from guidekit.plane.outline import Outline
from guidekit.plane.polygon import corners, rounded
from guidekit.units import half_up


def lay_over(
    panels: Sequence[Panel], placed: Sequence[Placed], laid: NumberedInset, setting: Setting
) -> list[Panel]:
    """Add one inset, cut out of everything below it; raises `InputError`."""
    below = [place.region for place in placed if place.number in laid.over]
    whole = around(region.box for region in below)
    box, gap = _inset_box(laid.inset, whole, setting)
    cuts = below[0].cuts if len(below) == 1 else ()
    outside = any(cut.beyond(corner) > 0 for cut in cuts for corner in corners(box))
    if not whole.holds(box) or box.is_empty or outside:
        came = f"the inset {box.as_list()} does not lie inside the panels {whole.as_list()}"
        allowed = f"at most {whole.width} × {whole.height} px with its gutter, inside them"
        todo = f"Make it smaller, or move it: {allowed}."
        raise InputError(Problem(laid.key, came, allowed, todo))
    look = Look(setting.border_of(laid.inset.border), setting.radius_of(laid.inset.radius))
    panel = shaped(laid.number, Reach(box), look, laid.key)
    margin = box.inset(-gap)
    hole: Outline = margin
    if look.radius:
        hole = rounded(corners(margin), look.radius + gap, lambda point: False) or margin
    cut = [
        other
        if other.box.clipped(margin).is_empty
        else replace(other, cut_out=(*other.cut_out, hole))
        for other in panels
    ]
    return [*cut, panel]


def _inset_box(inset: Inset, below: Box, setting: Setting) -> tuple[Box, int]:
    gap = setting.gap if inset.gutter is None else setting.px(inset.gutter)
    dpi = setting.dpi
    width = half_up(inset.width.fixed(below.width, dpi) or Fraction(0))
    height = half_up(inset.height.fixed(below.height, dpi) or Fraction(0))
    if inset.at:
        left = half_up(inset.at[0].px(below.left, below.width, dpi))
        top = half_up(inset.at[1].px(below.top, below.height, dpi))
    else:
        vertical, _, horizontal = (inset.corner or "").partition("-")
        room = gap + setting.border  # so that the border round the corner stays whole
        left = below.left + room if horizontal == "left" else below.right - room - width
        top = below.top + room if vertical == "top" else below.bottom - room - height
    return Box(left, top, left + width, top + height), gap
