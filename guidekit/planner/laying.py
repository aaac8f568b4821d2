"""Panels that are laid over others: new ones, moved ones, those that are taken away."""

from __future__ import annotations

from fractions import Fraction

from guidekit.errors import InputError, Problem
from guidekit.geometry.panels.ground import Ground
from guidekit.issue.models.share import Position
from guidekit.issue.numbering import NumberedInset
from guidekit.plane.box import Box, around
from guidekit.plane.rings import overlap
from guidekit.planner.changes import LayOver, LiftOff
from guidekit.planner.edits.lengths import in_steps
from guidekit.planner.edits.names import renamed
from guidekit.planner.edits.spots import Values
from guidekit.planner.planned_page import PlannedPage
from guidekit.units import half_up


def insets_after(sheet: PlannedPage, change: LayOver | LiftOff, unit: str) -> Values:
    """The values of a page with an inset more, moved, or less; raises `InputError`."""
    insets = [*sheet.values.get("insets", [])]
    assert sheet.numbering
    stays = {number: number for number in sheet.boxes}
    if change.inset is not None and change.inset >= len(insets):
        raise InputError(Problem((), "there is no such inset on this page"))
    if isinstance(change, LiftOff):
        del insets[change.inset]
    else:
        left, top, right, bottom = (round(x) for x in change.box)
        box = Box(min(left, right), min(top, bottom), max(left, right), max(top, bottom))
        laid = sheet.numbering.insets[change.inset] if change.inset is not None else None
        if laid and (laid.inset.within or laid.inset.is_own):
            insets[laid.index] = insets[laid.index] | _shifted(sheet, laid, box, unit)
            return {**sheet.values, "insets": insets}
        over = [n for n, region in sheet.regions.items() if overlap(region.outline, box)]
        if not over:
            raise InputError(Problem((), "no panel lies there", todo="Draw it over a panel."))
        x, y = Ground.of([sheet.regions[n] for n in over]).corner("top-left")
        dpi = sheet.rules.book.dpi
        said: Values = {
            "over": [sheet.printed[n] for n in over] if len(over) > 1 else sheet.printed[over[0]],
            "width": in_steps(box.width, unit, dpi),
            "height": in_steps(box.height, unit, dpi),
            "at": [in_steps(round(step), unit, dpi) for step in (box.left - x, box.top - y)],
        }
        if change.inset is None:
            insets.append(said)
        else:
            old = {k: v for k, v in insets[change.inset].items() if k != "corner"}
            insets[change.inset] = old | said
    return renamed({**sheet.values, "insets": insets}, sheet.printed, stays)


def _shifted(sheet: PlannedPage, laid: NumberedInset, box: Box, unit: str) -> Values:
    """What an inset says of its place, so that it lies in a box; one of its own shape keeps it.

    Raises `InputError`.
    """
    boxes, dpi = sheet.canvas.boxes, sheet.rules.book.dpi
    if laid.inset.corner:
        came = "this inset lies in a corner, in a shape or an area of its own"
        raise InputError(Problem((), came, todo="Change its corner in the file."))
    old = next(panel.box for panel in sheet.canvas.panels if panel.number == laid.number)
    areas = {"frame": boxes.safe_area, "trim": boxes.trim, "bleed": boxes.bleed}
    over = [sheet.boxes[n] for n, number in sheet.printed.items() if number in laid.over]
    ground = areas[laid.inset.within] if laid.inset.within else around(over)
    steps = box.left - old.left, box.top - old.top
    at = laid.inset.at or (Position(percent=Fraction(0)),) * 2
    places = zip(at, ground.size, steps, strict=True)
    moved = [half_up(place.px(0, extent, dpi)) + step for place, extent, step in places]
    said: Values = {"at": [in_steps(px, unit, dpi) for px in moved]}
    if laid.inset.is_own and laid.inset.width and laid.inset.height:
        return said
    if laid.inset.is_own:  # at a place both are said
        return said | {
            "width": in_steps(ground.width, unit, dpi),
            "height": in_steps(ground.height, unit, dpi),
        }
    return said | {
        "width": in_steps(box.width, unit, dpi),
        "height": in_steps(box.height, unit, dpi),
    }
