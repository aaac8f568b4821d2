"""What may be asked to change, as data, and the page that comes of it."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, TypeAdapter, ValidationError

from guidekit.errors import InputError, Problem
from guidekit.geometry.edges import edges_by_name
from guidekit.issue.tree import Axis
from guidekit.plane.box import EDGES, Box
from guidekit.planner.edits.contents import WITH_CONTENTS
from guidekit.planner.edits.divide import divided
from guidekit.planner.edits.from_boxes import Units
from guidekit.planner.edits.join import joined
from guidekit.planner.edits.names import moved_to, renamed
from guidekit.planner.edits.shares import length_of, moved_shares, with_shares
from guidekit.planner.edits.slants import slant_towards, with_slant
from guidekit.planner.edits.spots import Values
from guidekit.planner.sheet import Handle, Sheet
from guidekit.planner.snaps import Rest, rest_of

Number = Annotated[int, Field(ge=0, le=10_000)]
Pixels = Annotated[float, Field(ge=-100_000, le=1_000_000)]


class _Change(BaseModel):
    model_config = ConfigDict(extra="forbid", frozen=True)


class OnPage(_Change):
    """A change to one entry of ``[[pages]]``, counted from 0."""

    page: Number


class Put(OnPage):
    """Values at keys of a page; None takes a key out."""

    do: Literal["put"]
    key: Annotated[list[str | int], Field(min_length=1, max_length=8)]
    value: Any = None


class PutTop(_Change):
    """A value at a key of the issue itself; None takes it out."""

    do: Literal["issue"]
    key: Annotated[list[str], Field(min_length=1, max_length=8)]
    value: Any = None


class Layout(OnPage):
    """A named layout in place of what fills the page."""

    do: Literal["layout"]
    name: Annotated[str, Field(max_length=250)]


class Keep(OnPage):
    """The page's own arrangement, kept as a layout of the issue."""

    do: Literal["keep"]
    name: Annotated[str, Field(max_length=100)]


class Divide(OnPage):
    """A panel into equal parts; or in two `at` a place, in pixels along the axis."""

    do: Literal["divide"]
    panel: Number
    axis: Axis
    parts: Annotated[int, Field(ge=2, le=12)] = 2
    at: Pixels | None = None


class Join(OnPage):
    """Panels into one."""

    do: Literal["join"]
    panels: Annotated[list[Number], Field(min_length=2, max_length=100)]


class Drag(OnPage):
    """The edge between two parts, `to` a place along its axis in pixels of the canvas."""

    do: Literal["drag"]
    edge: Number
    to: Pixels
    near: Number = 0


class Lean(OnPage):
    """One end of an edge, `to` a place along its axis; the edge turns about its middle."""

    do: Literal["lean"]
    edge: Number
    first: bool
    to: Pixels
    fine: bool = False


class LayOver(OnPage):
    """A panel over others: a new inset, or a new place for the `inset` counted from 0."""

    do: Literal["inset"]
    box: tuple[Pixels, Pixels, Pixels, Pixels]
    inset: Number | None = None


class LiftOff(OnPage):
    """An inset taken away."""

    do: Literal["lift"]
    inset: Number


class Bleed(OnPage):
    """A panel that runs out to the bleed on one edge of the canvas, or no longer."""

    do: Literal["bleed"]
    panel: Number
    edge: Literal["left", "top", "right", "bottom"]
    on: bool


class AddPages(_Change):
    """New pages behind an entry (-1: before the first): of a layout, or a copy of that entry."""

    do: Literal["add"]
    behind: Annotated[int, Field(ge=-1, le=10_000)]
    copy_it: bool = False
    count: Annotated[int, Field(ge=1, le=500)] = 1
    spread: bool = False


class MovePage(OnPage):
    """An entry to another place among the others."""

    do: Literal["move"]
    to: Number


class DeletePage(OnPage):
    """An entry taken away."""

    do: Literal["delete"]


class Apart(OnPage):
    """One of several pages alike (`nth`, from 0) made an entry of its own."""

    do: Literal["apart"]
    nth: Number


PageChange = (
    Put | Layout | Keep | Divide | Join | Drag | Lean | LayOver | LiftOff | Bleed
)  # fmt: skip
ListChange = AddPages | MovePage | DeletePage | Apart
Change = PutTop | PageChange | ListChange
_ADAPTER: TypeAdapter[Change] = TypeAdapter(Annotated[Change, Field(discriminator="do")])


def read_change(data: object) -> Change:
    """A change as the browser sends it; raises `InputError`."""
    try:
        return _ADAPTER.validate_python(data)
    except (ValidationError, RecursionError):
        raise InputError(Problem((), "this is no change that the planner knows")) from None


def page_after(sheet: Sheet, change: PageChange, unit: str) -> Values:
    """The values of a page after a change; raises `InputError` for what cannot be."""
    if isinstance(change, Put):
        return put(sheet.values, change.key, change.value)
    if isinstance(change, Layout):
        own = {key: said for key, said in sheet.values.items() if key not in WITH_CONTENTS}
        changed = {"panels": change.name, **own}
        return _fitting(sheet, changed)
    if isinstance(change, Keep):
        return {"panels": change.name} | {
            key: said for key, said in sheet.values.items() if key not in (*WITH_CONTENTS, "gutter")
        }
    if not sheet.can_be_shaped:
        came = "this page is changed in the file: it is a scroll, or differs by side, or is bare"
        raise InputError(Problem((), came))
    if isinstance(change, Bleed):
        return _bleed(sheet, change)
    if isinstance(change, (LayOver, LiftOff)):
        return _insets(sheet, change, unit)
    plain = sheet.written_out()
    if isinstance(change, (Drag, Lean)):
        return _moved(plain, change, unit)
    return _shaped(plain, change, unit)


def kept_layout(sheet: Sheet) -> Values:
    """What fills a page, as a layout."""
    plain = sheet.written_out().values
    keys = [key for key in (*WITH_CONTENTS, "gutter") if key not in ("halves", "scroll")]
    layout = {key: plain[key] for key in keys if key in plain}
    if not layout or "halves" in plain or "scroll" in plain:
        came = "halves of a spread, and scrolls, are not kept as layouts"
        raise InputError(Problem((), came))
    return layout | ({"spread": True} if plain.get("spread") else {})


def handle_at(sheet: Sheet, index: int) -> Handle:
    """An edge by its number; raises `InputError`."""
    if index >= len(sheet.handles):
        raise InputError(Problem((), "there is no such edge on this page"))
    return sheet.handles[index]


def rest_at(sheet: Sheet, change: Drag, unit: str) -> Rest:
    """Where a dragged edge rests."""
    handle = handle_at(sheet, change.edge)
    dpi = sheet.rules.book.dpi
    return rest_of(handle, change.to, change.near, sheet.handles, unit, dpi)


def _moved(plain: Sheet, change: Drag | Lean, unit: str) -> Values:
    handle = handle_at(plain, change.edge)
    if isinstance(change, Lean):
        if handle.name == "map":
            raise InputError(Problem((), "the gutters of a map are straight"))
        lean = 2 * (change.to - handle.middle) * (1 if change.first else -1)
        along = handle.end - handle.begin
        if handle.axis == "down":  # a level line falls to the right
            lean = -lean
        slant = slant_towards(lean, along, change.fine)
        return with_slant(plain.values, handle.path, handle.axis, handle.gap, slant, handle.slants)
    sizes = [end - begin for begin, end in handle.spans]
    edge = rest_at(plain, change, unit).edge
    shares = moved_shares(handle.shares, sizes, edge, unit, plain.rules.book.dpi)
    return with_shares(plain.values, handle.path, handle.axis, handle.name, shares)


def _shaped(plain: Sheet, change: Divide | Join, unit: str) -> Values:
    spots, dpi = plain.spots(), plain.rules.book.dpi
    if isinstance(change, Join):
        panels = sorted({plain.layout_number(panel) for panel in change.panels})
        spacing = plain.rules.spacing(plain.entry.page, False)
        gutter = min(spacing.gap("across"), spacing.gap("down"))
        values = joined(plain.values, spots, plain.boxes, panels, Units(unit, dpi), gutter)
        return _fitting(plain, values)
    panel = plain.layout_number(change.panel)
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


def _fitting(before: Sheet, values: Values) -> Values:
    """The page after a change of its panels, with what it says of them under their new numbers."""
    bare = {key: said for key, said in values.items() if key not in ("panel", "insets")}
    after = before.changed(bare)
    return renamed(values, before.printed, moved_to(before.boxes, after.boxes))


def _bleed(sheet: Sheet, change: Bleed) -> Values:
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


def _insets(sheet: Sheet, change: LayOver | LiftOff, unit: str) -> Values:
    insets = [*sheet.values.get("insets", [])]
    stays = {number: number for number in sheet.boxes}
    if change.inset is not None and change.inset >= len(insets):
        raise InputError(Problem((), "there is no such inset on this page"))
    if isinstance(change, LiftOff):
        del insets[change.inset]
    else:
        left, top, right, bottom = (round(x) for x in change.box)
        box = Box(min(left, right), min(top, bottom), max(left, right), max(top, bottom))
        over = [n for n, place in sheet.boxes.items() if not place.clipped(box).is_empty]
        if not over:
            raise InputError(Problem((), "no panel lies there", todo="Draw it over a panel."))
        ground = [sheet.boxes[n] for n in over]
        dpi = sheet.rules.book.dpi
        x, y = min(b.left for b in ground), min(b.top for b in ground)
        said: Values = {
            "over": [sheet.printed[n] for n in over] if len(over) > 1 else sheet.printed[over[0]],
            "width": _length(box.width, unit, dpi),
            "height": _length(box.height, unit, dpi),
            "at": [_length(box.left - x, unit, dpi), _length(box.top - y, unit, dpi)],
        }
        if change.inset is None:
            insets.append(said)
        else:
            old = {k: v for k, v in insets[change.inset].items() if k != "corner"}
            insets[change.inset] = old | said
    return renamed({**sheet.values, "insets": insets}, sheet.printed, stays)


def _length(px: int, unit: str, dpi: int) -> str:
    """A length in whole steps of half a millimetre or a thirty-second of an inch."""
    length = length_of(px, unit, dpi)
    step = {"mm": Fraction(1, 2), "cm": Fraction(1, 20), "in": Fraction(1, 32)}.get(unit)
    if not step:
        return str(length)
    return str(type(length)(round(length.value / step) * step, unit))


def put(values: Values, key: list[Any], value: Any) -> Values:
    """Values with one at a key, the tables on the way made; None takes it out, empty ones too."""
    name, *rest = key
    changed = dict(values)
    if rest:
        inner = changed.get(name, {})
        if isinstance(inner, list) and isinstance(rest[0], int) and rest[0] < len(inner):
            items = [*inner]
            own = items[rest[0]]
            if len(rest) > 1 and isinstance(own, dict):
                items[rest[0]] = put(own, rest[1:], value)
                return {**changed, name: items}
        if not isinstance(inner, dict):
            raise InputError(Problem(tuple(key), "there is no table there"))
        value = put(inner, rest, value)
        value = value or None
    if value is None:
        changed.pop(name, None)
    else:
        changed[str(name)] = value
    return changed
