"""Panels laid over others, with a clear margin cut out of what lies below."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from guidekit.errors import InputError, Problem
from guidekit.geometry.arrange import Placed
from guidekit.geometry.edges import Butted, Setting
from guidekit.geometry.page import Panel
from guidekit.geometry.shape import shaped
from guidekit.issue.panel_model import Inset
from guidekit.plane.box import Box, around
from guidekit.plane.outline import Outline
from guidekit.plane.polygon import corners, rounded
from guidekit.units import half_up


def lay_over(
    panels: list[Panel],
    placed: Sequence[Placed],
    inset: Inset,
    over: tuple[int, ...],
    setting: Setting,
    where: str,
) -> list[Panel]:
    """Add one inset, cut out of everything below it.

    Until all are numbered it has the number of the last panel it lies over, behind which it is
    read. Raises `InputError` led by `where`.
    """
    below = around(place.box for place in placed if place.number in over)
    box, gap = _inset_box(inset, below, setting)
    cuts = [cut for place in placed if (place.number,) == over for cut in place.cuts]
    outside = any(cut.beyond(corner) > 0 for cut in cuts for corner in corners(box))
    if not below.holds(box) or box.is_empty or outside:
        raise InputError(
            Problem(
                where,
                f"the inset {box.as_list()} does not lie inside the panels {below.as_list()}",
                f"at most {below.width} × {below.height} px with its gutter, inside them",
                "Make it smaller, or move it.",
            )
        )
    panel = shaped(Placed(max(over), box, box), box, (), inset, setting, where, Butted())
    radius = setting.radius if inset.radius is None else setting.px(inset.radius)
    margin = box.inset(-gap)
    hole: Outline = margin
    if radius:
        hole = rounded(corners(margin), radius + gap, lambda point: False) or margin
    cut = [
        replace(p, cuts=(*p.cuts, hole)) if not p.box.clipped(margin).is_empty else p
        for p in panels
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
