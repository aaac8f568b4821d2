"""The page that comes of a change."""

from __future__ import annotations

from typing import Any

from guidekit.errors import InputError, Problem
from guidekit.geometry.panels.edges import edges_by_name
from guidekit.issue.tree import Axis
from guidekit.plane.box import EDGES, Box
from guidekit.planner.changes import (
    Bleed,
    Divide,
    Drag,
    Join,
    Keep,
    LayOver,
    LeanEdge,
    LiftOff,
    PageChange,
    Pull,
    Put,
    UseLayout,
)
from guidekit.planner.edits.contents import CONTENTS, WITH_CONTENTS
from guidekit.planner.edits.divide import divided
from guidekit.planner.edits.from_boxes import Units
from guidekit.planner.edits.join import joined
from guidekit.planner.edits.lengths import length_of
from guidekit.planner.edits.names import moved_to, renamed
from guidekit.planner.edits.shares import moved_shares, with_shares
from guidekit.planner.edits.slants import STRAIGHT, slant_towards, with_lines
from guidekit.planner.edits.spots import Values, put
from guidekit.planner.handles import Handle
from guidekit.planner.knobs import pulled
from guidekit.planner.laying import insets_after
from guidekit.planner.planned_page import PlannedPage
from guidekit.planner.snaps import Rest, rest_of


def page_after(sheet: PlannedPage, change: PageChange, unit: str) -> Values:
    """The values of a page after a change; raises `InputError` for what cannot be."""
    if isinstance(change, Put):
        values = put(sheet.values, change.key, change.value)
        return _of_kind(values) if change.key == ["kind"] else values
    if isinstance(change, UseLayout):
        own = {key: said for key, said in sheet.values.items() if key not in WITH_CONTENTS}
        changed = {"panels": change.name, **own}
        return _fitting(sheet, changed)
    if isinstance(change, Keep):
        return {"panels": change.name} | {
            key: said for key, said in sheet.values.items() if key not in (*WITH_CONTENTS, "gutter")
        }
    if isinstance(change, Pull):
        return pulled(sheet, change, unit)
    if not sheet.can_be_shaped:
        came = "this page is changed in the file: it is a scroll, or differs by side, or is bare"
        raise InputError(Problem((), came))
    if isinstance(change, Bleed):
        return _bleed(sheet, change)
    if isinstance(change, (LayOver, LiftOff)):
        return insets_after(sheet, change, unit)
    plain = sheet.written_out()
    if isinstance(change, (Drag, LeanEdge)):
        return _moved(plain, change, unit)
    return _shaped(plain, change, unit)


def _of_kind(values: Values) -> Values:
    """A page of another kind: a blank one has no panels, one of the story has some."""
    if values.get("kind") == "blank":
        gone = (*WITH_CONTENTS, "panel", "insets", "bleed")
        return {key: said for key, said in values.items() if key not in gone}
    if "kind" not in values and not any(key in values for key in CONTENTS):
        return {"panels": "splash", **values}
    return values


def kept_layout(sheet: PlannedPage) -> Values:
    """What fills a page, as a layout."""
    plain = sheet.written_out().values
    keys = [key for key in (*WITH_CONTENTS, "gutter") if key not in ("halves", "scroll")]
    layout = {key: plain[key] for key in keys if key in plain}
    if not layout or "halves" in plain or "scroll" in plain:
        came = "halves of a spread, and scrolls, are not kept as layouts"
        raise InputError(Problem((), came))
    return layout | ({"spread": True} if plain.get("spread") else {})


def handle_at(sheet: PlannedPage, index: int) -> Handle:
    """An edge by its number; raises `InputError`."""
    if index >= len(sheet.handles):
        raise InputError(Problem((), "there is no such edge on this page"))
    return sheet.handles[index]


def rest_at(sheet: PlannedPage, change: Drag, unit: str) -> Rest:
    """Where a dragged edge rests."""
    handle = handle_at(sheet, change.edge)
    dpi = sheet.rules.book.dpi
    others = () if change.whole else sheet.handles
    return rest_of(handle, change, others, unit, dpi)


def _moved(plain: PlannedPage, change: Drag | LeanEdge, unit: str) -> Values:
    handle = handle_at(plain, change.edge)
    if isinstance(change, LeanEdge):
        if handle.name == "map":
            raise InputError(Problem((), "the gutters of a map are straight"))
        lean = 2 * (change.to - handle.middle) * (1 if change.first else -1)
        along = handle.end - handle.begin
        if handle.axis == "down":  # a level line falls to the right
            lean = -lean
        slant = slant_towards(lean, along, change.fine)
        slants = [*handle.slants]
        slants[handle.gap] = slant
        return with_lines(plain.values, handle.path, "slant", slants, STRAIGHT)
    sizes = [end - begin for begin, end in handle.spans]
    edge = rest_at(plain, change, unit).edge
    shares = moved_shares(handle.shares, sizes, edge, unit, plain.rules.book.dpi)
    return with_shares(plain.values, handle.path, handle.axis, handle.name, shares)


def _shaped(plain: PlannedPage, change: Divide | Join, unit: str) -> Values:
    spots, dpi = plain.spots(), plain.rules.book.dpi
    if isinstance(change, Join):
        panels = sorted({plain.layout_number(panel) for panel in change.panels})
        spacing = plain.rules.spacing(plain.entry.page, False)
        gutter = min(spacing.gap("across"), spacing.gap("down"))
        values = joined(plain.values, spots, plain.boxes, panels, Units(unit, dpi), gutter)
        return _fitting(plain, values)
    panel = plain.layout_number(change.panel)
    if panel not in spots:
        raise InputError(Problem((), "a triangle is not divided"))
    shares: tuple[Any, ...] = ()
    if change.at is not None:
        shares = _shares_at(plain.boxes[panel], change.axis, change.at, unit, dpi)
    values = divided(plain.values, spots[panel], change.axis, change.parts, shares)
    return _fitting(plain, values)


def _shares_at(box: Box, axis: Axis, place: float, unit: str, dpi: int) -> tuple[Any, ...]:
    """Shares of two parts with the cut at a place; none near the middle."""
    begin, size = (box.left, box.width) if axis == "across" else (box.top, box.height)
    part = min(max((place - begin) / size, 0.05), 0.95)
    for name, weights in ((1 / 2, ()), (1 / 3, (1, 2)), (2 / 3, (2, 1))):
        if abs(part - name) < 0.03:
            return weights
    return (str(length_of(round(part * size), unit, dpi)), 1)


def _fitting(before: PlannedPage, values: Values) -> Values:
    """The page after a change of its panels, with what it says of them under their new numbers."""
    bare = {key: said for key, said in values.items() if key not in ("panel", "insets")}
    after = before.changed(bare)
    return renamed(values, before.printed, moved_to(before.boxes, after.boxes))


def _bleed(sheet: PlannedPage, change: Bleed) -> Values:
    panel = sheet.layout_number(change.panel)
    assert sheet.numbering
    entry = sheet.numbering.entries.get(change.panel)
    name = entry.name if entry else str(change.panel)
    places = {p.number: p.region for area in sheet.areas for p in area.found.panels}
    ends = places[panel].ends
    if change.edge not in ends:
        raise InputError(Problem((), "that edge of the panel is not at the edge of the page"))
    now = next(p for p in sheet.canvas.panels if p.number == change.panel).bleed
    wanted = (now | {change.edge}) if change.on else (now - {change.edge})
    if wanted == set(EDGES):
        return put(sheet.values, ["panel", name, "bleed"], "all")
    names = edges_by_name(sheet.canvas.boxes)
    trade = [
        word
        for word in ("top", "bottom", "inside", "outside", "left", "right")
        if names[word] & ends and (names[word] & ends) <= wanted
    ]
    if {"inside", "outside"} & {*trade}:
        trade = [word for word in trade if word not in ("left", "right")]
    value: Any = trade or ([] if sheet.entry.page.bleed else None)
    return put(sheet.values, ["panel", name, "bleed"], value)
