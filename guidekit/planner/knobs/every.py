"""All points of a page that can be dragged."""

from __future__ import annotations

from collections.abc import Callable

from guidekit.errors import InputError, Problem
from guidekit.planner.changes import Pull
from guidekit.planner.edits.spots import Values
from guidekit.planner.knobs.bends import bend_knobs, bent
from guidekit.planner.knobs.corners import corner_knobs, pulled_corner
from guidekit.planner.knobs.knob import Kind, Knob
from guidekit.planner.knobs.scrolls import heightened, parted, place_knobs
from guidekit.planner.planned_page import PlannedPage

#: What becomes of a page of which a point of each kind was dragged.
PULLED: dict[Kind, Callable[[PlannedPage, Knob, Pull, str], Values]] = {
    "bend": bent,
    "corner": pulled_corner,
    "height": heightened,
    "gap": parted,
}


def knobs_of(sheet: PlannedPage) -> tuple[Knob, ...]:
    """All of a page, in an order that is the same however the page is spelled."""
    return (*bend_knobs(sheet), *corner_knobs(sheet), *place_knobs(sheet))


def pulled(sheet: PlannedPage, change: Pull, unit: str) -> Values:
    """The values of a page after a point of it was dragged; raises `InputError`."""
    knobs = knobs_of(sheet)
    if change.knob >= len(knobs):
        raise InputError(Problem((), "there is no such point on this page"))
    knob = knobs[change.knob]
    return PULLED[knob.kind](sheet, knob, change, unit)
