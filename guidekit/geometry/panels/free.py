"""Panels and figures with a shape of their own, and the places in which they stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from guidekit.errors import InputError, Key, Problem
from guidekit.geometry.page import Border, Figure, Panel
from guidekit.geometry.panels.forms import Form, as_outline, check_area, form_in
from guidekit.geometry.panels.setting import Setting
from guidekit.issue.models.own_shape import Figure as FigureModel
from guidekit.issue.models.share import Position, Share
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline, box_of, size_of
from guidekit.plane.polygon import Point
from guidekit.plane.rings import overlap
from guidekit.units import half_up


def free_panel(number: int, form: Form, weight: int, setting: Setting, key: Key) -> Panel:
    """The panel of this number, to which `key` leads on its page; raises `InputError`."""
    check_seen(form.sharp, setting, key)
    sharp, outline = as_outline(form.sharp), outline_of(form, key)
    border = None
    if weight:
        inside = form.inside(weight)
        if len(inside) != 1:
            effect = "part the inside of" if inside else "leave nothing of"
            came = f"{weight} px of border {effect} {size_of(sharp)}"
            todo = "Take a thinner border or a wider shape."
            raise InputError(Problem((*key, "border"), came, "a border with one inside", todo))
        border = Border(outline, inside[0], weight)
    return Panel(number, outline, sharp, form.radius, border, ellipse=form.ellipse)


def outline_of(form: Form, key: Key) -> Outline:
    """A form with its corners rounded; raises `InputError` if one has no room."""
    if outline := form.outline():
        return outline
    came = f"corners of {form.radius} px are too large for {size_of(form.sharp)}"
    allowed = "at most half of the shortest side"
    todo = f"Take a smaller radius, {allowed}."
    raise InputError(Problem((*key, "radius"), came, allowed, todo))


def figures_of(
    models: Sequence[FigureModel], within: Box, setting: Setting, key: Key
) -> tuple[Figure, ...]:
    """The figures that break out of a panel whose place this is; raises `InputError`."""
    found = []
    for i, model in enumerate(models):
        own = (*key, "figures", i)
        box = box_at(model.at, (model.width, model.height), within, setting)
        form = form_in(box, model, replace(setting, radius=0), own)
        outline = outline_of(form, own)
        check_seen(outline, setting, own)
        gap = None if model.gutter is None else setting.px(model.gutter)
        found.append(Figure(model.name, outline, gap, form.ellipse))
    return tuple(found)


def box_at(
    at: tuple[Position, Position] | None,
    size: tuple[Share | None, Share | None],
    within: Box,
    setting: Setting,
    corner: Point | None = None,
) -> Box:
    """A box by its place and size in another one; what is not given is that of the other.

    Places are measured from `corner`, by default the upper left; sizes become whole pixels, and the
    middle of the box stays as near to its exact place as it can. Percentages are of the other box.
    """
    spans = []
    for axis, extent in enumerate(within.size):
        share, start = size[axis], Fraction(corner[axis] if corner else within.as_list()[axis])
        length = Fraction(extent) if share is None else share.fixed(extent, setting.dpi)
        assert length is not None  # a size is no weight
        whole = half_up(length)
        exact = start + (at[axis].px(0, extent, setting.dpi) if at else 0) + (length - whole) / 2
        begin = half_up(exact) if axis else setting.whole_across(exact)
        spans.append((begin, begin + whole))
    (left, right), (top, bottom) = spans
    return Box(left, top, right, bottom)


def check_seen(outline: Outline, setting: Setting, key: Key) -> None:
    """A shape has a pixel, and some of it lies on the canvas; raises `InputError`."""
    check_area(outline, key)
    canvas = setting.boxes.canvas
    if not overlap(outline, canvas):
        box = box_of(outline).as_list()
        came = f"nothing of the shape {box} lies on the canvas {canvas.as_list()}"
        raise InputError(Problem(key, came, "a place on the canvas", "Move it, or turn it less."))
