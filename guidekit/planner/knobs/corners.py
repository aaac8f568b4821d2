"""The corners of insets that are free shapes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from guidekit.issue.numbering import NumberedInset
from guidekit.plane.box import Box
from guidekit.plane.outline import box_of
from guidekit.plane.polygon import Point, turned
from guidekit.planner.changes import Pull
from guidekit.planner.edits.lengths import place_value
from guidekit.planner.edits.spots import Values, put
from guidekit.planner.knobs.knob import Knob
from guidekit.planner.planned_page import PlannedPage


def corner_knobs(sheet: PlannedPage) -> Iterator[Knob]:
    """All of them, but for those of insets that keep to a corner of what they lie over."""
    dpi, trim = sheet.rules.book.dpi, sheet.canvas.boxes.trim
    for laid in sheet.numbering.insets if sheet.numbering and sheet.can_be_shaped else ():
        if not laid.inset.points or laid.inset.corner:
            continue
        box = _place(sheet, laid)
        points = tuple(
            (float(x.px(box.left, box.width, dpi)), float(y.px(box.top, box.height, dpi)))
            for x, y in laid.inset.points
        )
        for nth, point in enumerate(turned(points, _middle(box), float(laid.inset.tilt))):
            sizes = round(point[0]) - trim.left, round(point[1]) - trim.top
            yield Knob("corner", laid.number, point, sizes, nth)


def pulled_corner(sheet: PlannedPage, knob: Knob, change: Pull, unit: str) -> Values:
    """The shape with one corner elsewhere; it is measured in the place in which all are."""
    assert sheet.numbering
    laid = next(one for one in sheet.numbering.insets if one.number == knob.of)
    assert laid.inset.points
    box, dpi = _place(sheet, laid), sheet.rules.book.dpi
    ((to_x, to_y),) = turned((change.to,), _middle(box), -float(laid.inset.tilt))
    x, y = laid.inset.points[knob.nth]
    points = [*sheet.values["insets"][laid.index]["points"]]
    points[knob.nth] = [
        place_value(to_x - box.left, x, box.width, unit, dpi),
        place_value(to_y - box.top, y, box.height, unit, dpi),
    ]
    return put(sheet.values, ["insets", laid.index, "points"], points)


def _place(sheet: PlannedPage, laid: NumberedInset) -> Box:
    """The box in which the points of an inset are measured."""
    from guidekit.geometry.panels.insets import place_of  # few pages have insets

    placed = [
        replace(place, number=sheet.printed[place.number])
        for area in sheet.areas
        for place in area.found.panels
    ]
    return box_of(place_of(laid, placed, sheet.rules.setting(sheet.entry.page, sheet.canvas.boxes)))


def _middle(box: Box) -> Point:
    return (box.left + box.right) / 2, (box.top + box.bottom) / 2
