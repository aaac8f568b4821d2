"""The upper and lower edges of the places of a scroll."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from guidekit.plane.box import Box
from guidekit.planner.changes import Pull
from guidekit.planner.edits.lengths import in_steps
from guidekit.planner.edits.spots import Values, put
from guidekit.planner.knobs.knob import Knob
from guidekit.planner.planned_page import PlannedPage
from guidekit.units import Length, decimal

LOWEST = Fraction(1, 20)  # screens that a place of a scroll keeps
STEP = Fraction(1, 100)  # of a screen, to which its height is rounded
LARGEST_RATIO = 24  # the larger number of a ratio that is dragged to


def _frames(sheet: PlannedPage) -> list[Box]:
    """The places of a scroll, on all its canvases below each other."""
    found: list[Box] = []
    top = 0
    for canvas in sheet.canvases if sheet.entry.page.scroll else ():
        found += [frame.shifted(0, top) for frame in canvas.frames]
        top += canvas.boxes.canvas.height
    return found


def place_knobs(sheet: PlannedPage) -> Iterator[Knob]:
    """The lower edge of each place of a scroll, and the upper one of those that have one above."""
    frames = _frames(sheet)
    for number, box in enumerate(frames, 1):
        yield Knob("height", number, (box.left + box.width * 2 / 3, box.bottom), (box.height,))
        if number > 1:
            gap = box.top - frames[number - 2].bottom
            yield Knob("gap", number, (box.left + box.width / 3, box.top), (gap,))


def heightened(sheet: PlannedPage, knob: Knob, change: Pull, unit: str) -> Values:
    """The scroll with one place higher or lower; in screens, as a ratio or a length, as it was."""
    assert sheet.entry.page.scroll
    item, box = sheet.entry.page.scroll[knob.of - 1], _frames(sheet)[knob.of - 1]
    dpi, scroll = sheet.rules.book.dpi, sheet.rules.preset.scroll
    assert scroll
    screen = scroll.screen.px(dpi)
    px = max(round(change.to[1]) - box.top, round(LOWEST * screen))
    if item.ratio is not None:
        ratio = Fraction(box.width, px).limit_denominator(LARGEST_RATIO)
        ratio = max(ratio, Fraction(1, LARGEST_RATIO))
        return _said(sheet, knob, "ratio", f"{ratio.numerator}:{ratio.denominator}")
    if isinstance(item.height, Length):
        return _said(sheet, knob, "height", in_steps(px, item.height.unit, dpi))
    screens = round(px / screen / STEP) * STEP
    return _said(sheet, knob, "height", f"{decimal(screens, 2)} screen{'s' * (screens != 1)}")


def parted(sheet: PlannedPage, knob: Knob, change: Pull, unit: str) -> Values:
    """The scroll with another gap above a place; one of those that have names if it is near."""
    assert sheet.entry.page.scroll
    item, above = sheet.entry.page.scroll[knob.of - 1], _frames(sheet)[knob.of - 2]
    dpi, scroll = sheet.rules.book.dpi, sheet.rules.preset.scroll
    assert scroll
    px = max(0, round(change.to[1]) - above.bottom)
    for name in ("close", "normal", "scene"):
        if abs(px - getattr(scroll.gaps, name).px(dpi)) < change.near:
            return _said(sheet, knob, "gap", name)
    own = item.gap.unit if isinstance(item.gap, Length) else unit
    return _said(sheet, knob, "gap", in_steps(px, own, dpi))


def _said(sheet: PlannedPage, knob: Knob, key: str, value: str) -> Values:
    return put(sheet.values, ["scroll", knob.of - 1, key], value)
