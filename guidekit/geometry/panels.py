"""From places to panels: runs to the bleed, borders, rounded corners, insets, reading order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from math import ceil, floor

from guidekit.errors import InputError, Problem, one_of
from guidekit.geometry.arrange import Placed
from guidekit.geometry.box import Box, around
from guidekit.geometry.convex import Point, Side, area, clip_all, corners, rounded
from guidekit.geometry.page import Outline, Panel
from guidekit.geometry.perspective import view_in
from guidekit.geometry.sheet import Sheet
from guidekit.issue.panel_model import Inset, PanelModel
from guidekit.units import Length, half_up

EDGES = ("left", "top", "right", "bottom")


@dataclass(frozen=True)
class Setting:
    """What holds for the panels of one page: its sheet, the fold's side, border and corners.

    `gap` is the margin round an inset that names none, in pixels.
    """

    sheet: Sheet
    flip: bool
    dpi: int
    border: int
    radius: int
    gap: int

    def px(self, length: Length) -> int:
        """A length in whole pixels."""
        return half_up(length.px(self.dpi))

    def weight(self, border: bool | Length) -> int:
        """The weight of a border that is switched on or off, or given as a length."""
        if isinstance(border, Length):
            return max(1, self.px(border)) if border.value else 0
        return self.border if border else 0


def make_panels(
    placed: Sequence[Placed],
    special: Mapping[int, PanelModel],
    insets: Sequence[tuple[Inset, tuple[int, ...]]],
    setting: Setting,
) -> tuple[Panel, ...]:
    """All panels of a page with what is special about them, insets included, in reading order.

    `special` and the numbers of `insets` mean panels as they are numbered before insets are laid
    over them; an inset is read after the last of those it lies over. Raises `InputError`.
    """
    frame = around(place.box for place in placed)
    panels = []
    for place in placed:
        model = special.get(place.number, PanelModel())
        where = f"panel.{place.number}"
        limits, bleed = _bled(place, model, frame, setting, where)
        limits = _broken_out(place, limits, model, setting, where)
        panels.append(_panel(place, limits, bleed, model, setting, where, _butted(place, placed)))
    _check_overlaps(panels, special)
    last = {}
    for index, (inset, over) in enumerate(insets):
        panels, number = _lay_over(panels, placed, inset, over, index, setting)
        last[number] = max(over)
    reading = sorted(panels, key=lambda p: (last.get(p.number, p.number), p.number))
    first = min(place.number for place in placed)
    return tuple(replace(panel, number=i) for i, panel in enumerate(reading, first))


def _bled(
    place: Placed, model: PanelModel, frame: Box, setting: Setting, where: str
) -> tuple[Box, tuple[str, ...]]:
    """The panel's limits run out to the bleed, and the sides on which they are."""
    limits = place.limits
    touching = {edge for edge in EDGES if getattr(limits, edge) == getattr(frame, edge)}
    if model.bleed == ("all",):
        sides = touching
    else:
        sides = set().union(*(_edges(s, touching, setting, where) for s in model.bleed))
    bleed = setting.sheet.bleed
    return replace(limits, **{side: getattr(bleed, side) for side in sides}), tuple(sorted(sides))


def _edges(side: str, touching: set[str], setting: Setting, where: str) -> set[str]:
    """The edges of the canvas that a trade name means here: ``outside`` → ``right``."""
    names = {"top": ["top"], "bottom": ["bottom"], "inside": ["left"], "outside": ["right"]}
    if setting.flip:
        names |= {"inside": ["right"], "outside": ["left"]}
    if setting.sheet.fold is not None:  # its outside is at both ends, the fold in the middle
        names |= {"inside": [], "outside": ["left", "right"]}
    if found := touching.intersection(names[side]):
        return found
    possible = [name for name, edges in names.items() if touching.intersection(edges)]
    raise InputError(
        Problem(
            f"{where}.bleed",
            f'"{side}", but no edge of the panel lies there at the edge of the frame',
            f"{one_of(possible)} for this panel" if possible else "no side of this panel",
            "Choose a side that is at the edge of the page.",
        )
    )


def _broken_out(place: Placed, limits: Box, model: PanelModel, setting: Setting, where: str) -> Box:
    """The limits moved out into the gutters."""
    moved = {}
    for edge in EDGES:
        if length := getattr(model.break_out, edge):
            if getattr(limits, edge) != getattr(place.box, edge):
                raise InputError(
                    Problem(
                        f"{where}.break_out.{edge}",
                        "this side is slanted or runs to the bleed",
                        "a straight side with a gutter beyond it",
                    )
                )
            out = -setting.px(length) if edge in ("left", "top") else setting.px(length)
            moved[edge] = getattr(limits, edge) + out
    return replace(limits, **moved)


def _butted(place: Placed, placed: Sequence[Placed]) -> dict[str, str]:
    """Sides that lie against another panel, without a gutter; one border serves both."""
    box = place.limits
    sides: dict[str, str] = {}
    for other in placed:
        o = other.limits
        if other is place:
            continue
        if min(o.bottom, box.bottom) > max(o.top, box.top):
            sides |= {"right": "near"} if o.left == box.right else {}
            sides |= {"left": "far"} if o.right == box.left else {}
        if min(o.right, box.right) > max(o.left, box.left):
            sides |= {"bottom": "near"} if o.top == box.bottom else {}
            sides |= {"top": "far"} if o.bottom == box.top else {}
    return sides


def _panel(
    place: Placed,
    limits: Box,
    bleed: tuple[str, ...],
    model: PanelModel | Inset,
    setting: Setting,
    where: str,
    butted: Mapping[str, str],
) -> Panel:
    radius = setting.radius if model.radius is None else setting.px(model.radius)
    weight = setting.weight(model.border)
    outline = _outline(limits, place.cuts, radius, bleed, where)
    inner = None
    if weight:
        weights = {edge: weight for edge in EDGES}
        weights |= {edge: -weight for edge in bleed}  # ruled beyond the canvas, so to speak
        for edge, half in butted.items():
            weights[edge] = weight // 2 if half == "near" else weight - weight // 2
        inside = Box(
            limits.left + weights["left"],
            limits.top + weights["top"],
            limits.right - weights["right"],
            limits.bottom - weights["bottom"],
        )
        moved = tuple(side.moved(weight) for side in place.cuts)
        within = max(0, radius - weight)
        inner = (
            () if inside.is_empty else _outline(inside, moved, within, bleed, where, strict=False)
        )
    perspective = model.perspective if isinstance(model, PanelModel) else None
    view = (
        view_in(place.box, perspective, setting.dpi, f"{where}.perspective")
        if perspective
        else None
    )
    return Panel(place.number, _box_of(outline), outline, inner, bleed, view=view)


def _outline(
    limits: Box,
    cuts: tuple[Side, ...],
    radius: int,
    bleed: tuple[str, ...],
    where: str,
    strict: bool = True,
) -> Outline:
    """A box where it is one, else a polygon; raises `InputError` if nothing is left of it."""
    points = clip_all(corners(limits), cuts)
    if len(points) < 3 or area(points) < 1:
        if not strict:
            return ()
        raise InputError(
            Problem(
                where,
                "slanted gutters leave nothing of this panel",
                "a panel of at least 1 px",
                "Lean the gutters less, or give the panel a larger share.",
            )
        )
    if not radius:
        return limits if set(points) == set(corners(limits)) else points

    def sharp(point: Point) -> bool:
        return any(
            abs(point[edge in ("top", "bottom")] - getattr(limits, edge)) < 1e-6 for edge in bleed
        )

    curved = rounded(points, radius, sharp)
    if curved:
        return curved
    if not strict:
        return points
    raise InputError(
        Problem(
            f"{where}.radius",
            f"corners of {radius} px in a panel of {limits.width} × {limits.height} px",
            "at most half of the shortest side",
            "Take a smaller radius.",
        )
    )


def _box_of(outline: Outline) -> Box:
    if isinstance(outline, Box):
        return outline
    xs, ys = [x for x, _ in outline], [y for _, y in outline]
    e = 1e-6
    return Box(floor(min(xs) + e), floor(min(ys) + e), ceil(max(xs) - e), ceil(max(ys) - e))


def _check_overlaps(panels: Sequence[Panel], special: Mapping[int, PanelModel]) -> None:
    """A panel that breaks out stays in the gutter; raises `InputError`."""
    breaking = [
        panel
        for panel in panels
        if panel.number in special
        and any(getattr(special[panel.number].break_out, edge) for edge in EDGES)
    ]
    problems = [
        Problem(
            f"panel.{panel.number}.break_out",
            f"it would run over panel {other.number}",
            "a length up to the width of the gutter",
        )
        for panel in breaking
        for other in panels
        if other is not panel and not panel.box.clipped(other.box).is_empty
    ]
    if problems:
        raise InputError(problems)


def _lay_over(
    panels: list[Panel],
    placed: Sequence[Placed],
    inset: Inset,
    over: tuple[int, ...],
    index: int,
    setting: Setting,
) -> tuple[list[Panel], int]:
    """Add one inset, cut out of everything below it; returns its provisional number too."""
    where = f"insets[{index + 1}]"
    below = around(place.box for place in placed if place.number in over)
    box, gap = _inset_box(inset, below, setting)
    if not below.holds(box) or box.is_empty:
        raise InputError(
            Problem(
                where,
                f"the inset {box.as_list()} does not lie inside the panels {below.as_list()}",
                f"at most {below.width} × {below.height} px with its gutter, inside them",
                "Make it smaller, or move it.",
            )
        )
    number = 1_000_000 + index
    panel = _panel(Placed(number, box, box), box, (), inset, setting, where, {})
    radius = setting.radius if inset.radius is None else setting.px(inset.radius)
    margin = box.inset(-gap)
    hole: Outline = margin
    if radius:
        hole = rounded(corners(margin), radius + gap, lambda point: False) or margin
    cut = [
        replace(p, cuts=(*p.cuts, hole)) if not p.box.clipped(margin).is_empty else p
        for p in panels
    ]
    return [*cut, panel], number


def _inset_box(inset: Inset, below: Box, setting: Setting) -> tuple[Box, int]:
    gap = setting.gap if inset.gutter is None else setting.px(inset.gutter)
    dpi = setting.dpi
    width = half_up(inset.width.fixed(below.width, dpi) or Fraction(0))
    height = half_up(inset.height.fixed(below.height, dpi) or Fraction(0))
    if inset.at:
        left = floor(inset.at[0].px(below.left, below.width, dpi) + 0.5)
        top = floor(inset.at[1].px(below.top, below.height, dpi) + 0.5)
    else:
        vertical, _, horizontal = (inset.corner or "").partition("-")
        left = below.left + gap if horizontal == "left" else below.right - gap - width
        top = below.top + gap if vertical == "top" else below.bottom - gap - height
    return Box(left, top, left + width, top + height), gap
