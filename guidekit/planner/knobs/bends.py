"""Where gutters bend."""

from __future__ import annotations

from collections.abc import Iterator
from math import copysign, hypot, sqrt
from typing import Any

from guidekit.issue.models.bending import Bending
from guidekit.planner.changes import Pull
from guidekit.planner.edits.contents import bend_value
from guidekit.planner.edits.lengths import place_value
from guidekit.planner.edits.slants import with_lines
from guidekit.planner.edits.spots import Values
from guidekit.planner.knobs.knob import Knob
from guidekit.planner.planned_page import PlannedPage

STRAIGHT = "0 %"


def bend_knobs(sheet: PlannedPage) -> Iterator[Knob]:
    """A point of each arc, and of each straight gutter that may become one; all of other bends.

    That of an arc is a quarter on its way, for a gutter is held at its middle to be moved.
    """
    dpi = sheet.rules.book.dpi
    for index, handle in enumerate(sheet.handles):
        if handle.name == "map":
            continue
        bend, line = handle.bends[handle.gap], handle.line
        if bend and bend.points:
            for nth, (along, off) in enumerate(_points(bend, line.length, dpi)):
                yield Knob("bend", index, line.at(along, off), (round(off),), nth)
        else:
            deep = float(bend.offset.px(0, round(line.length), dpi)) if bend and bend.offset else 0
            at = line.at(line.length / 4, _at_a_quarter(deep, line.length))
            yield Knob("bend", index, at, (round(deep),))


def bent(sheet: PlannedPage, knob: Knob, change: Pull, unit: str) -> Values:
    """A gutter as it was with its point, or its arc, elsewhere; near its line it is straight."""
    from guidekit.geometry.division.bends import DEEPEST  # few pages have bends

    plain, dpi = sheet.written_out(), sheet.rules.book.dpi
    handle = plain.handles[knob.of]
    bend, line = handle.bends[handle.gap], handle.line
    along, off = line.place_of(change.to)
    off = 0.0 if abs(off) < change.near else off
    value: Any
    if bend and bend.points:
        was_along, was_off = bend.points[-1 - knob.nth if bend.backward else knob.nth]
        value = bend_value(bend)
        value[knob.nth] = [
            place_value(along, was_along, line.length, unit, dpi),
            place_value(off, was_off, line.length, unit, dpi),
        ]
    else:
        most = line.length / DEEPEST - 1
        deep = max(-most, min(most, _depth(off, line.length)))
        was = bend.offset if bend else None
        value = place_value(deep, was, line.length, unit, dpi) if round(deep) else STRAIGHT
    values = [bend_value(one) for one in handle.bends]
    values[handle.gap] = value
    return with_lines(plain.values, handle.path, "bend", values, STRAIGHT)


def _points(bend: Bending, length: float, dpi: int) -> list[tuple[float, float]]:
    """How far along a line and off it each point lies, in pixels."""
    whole = round(length)
    found = [
        (float(along.px(0, whole, dpi)), float(off.px(0, whole, dpi))) for along, off in bend.points
    ]
    return [(length - along, off) for along, off in found[::-1]] if bend.backward else found


def _at_a_quarter(deep: float, length: float) -> float:
    """How far off its chord an arc lies a quarter on its way, whose middle lies `deep` off it."""
    if not deep:
        return 0.0
    centre = (deep**2 - length**2 / 4) / (2 * deep)
    return centre + copysign(sqrt((deep - centre) ** 2 - length**2 / 16), deep)


def _depth(off: float, length: float) -> float:
    """How far off its chord the middle of an arc lies that lies so far off a quarter on its way."""
    if not off:
        return 0.0
    centre = (off**2 - 3 * length**2 / 16) / (2 * off)
    return centre + copysign(hypot(length / 2, centre), off)
