"""The panels of a large page as plain data: what is seen of each, and where its number stands."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from guidekit.geometry.page import Panel
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline, points_of
from guidekit.plane.polygon import Points
from guidekit.planner.picture import Data
from guidekit.planner.planned_page import PlannedPage
from guidekit.units import INCH_IN_MM, decimal

NUMBERS = 38  # the longer side of a canvas is so many times as high as the number of a panel


def panels_data(sheet: PlannedPage) -> list[Data]:
    """All panels of the only canvas of a page, in reading order.

    ``key`` stays as it is while insets come, move and go, where numbers are counted anew;
    ``seen`` are the rings of what others leave of the canvas above a panel, empty if all of it;
    ``own`` says that an inset has a shape of its own and is no upright box.
    """
    canvas, dpi = sheet.canvas, sheet.rules.book.dpi
    laid = {one.number: one for one in sheet.numbering.insets} if sheet.numbering else {}
    ends = {
        sheet.printed[place.number]: sorted(place.region.ends)
        for area in sheet.areas
        for place in area.found.panels
    }
    keys = {number: f"panel:{n}" for n, number in sheet.printed.items()}
    keys |= {number: f"inset:{one.index}" for number, one in laid.items()}
    size = max(canvas.boxes.canvas.size) // NUMBERS
    return [
        {
            "number": panel.number,
            "key": keys.get(panel.number, f"panel:{panel.number}"),  # of a scroll all are plain
            "at": _number_at(panel, size, sheet),
            "points": _flat(points_of(panel.outline)),
            "box": panel.box.as_list(),
            "width": measures(panel.box.width, dpi),
            "height": measures(panel.box.height, dpi),
            "border": panel.border.weight if panel.border else 0,
            "bleed": sorted(panel.bleed),
            "ends": ends.get(panel.number, []),
            "inset": laid[panel.number].index if panel.number in laid else None,
            "own": panel.number in laid and laid[panel.number].inset.is_own,
            "seen": _left_of(canvas.boxes.canvas, panel.cut_out),
            "figures": [_flat(points_of(figure.outline)) for figure in panel.figures],
        }
        for panel in canvas.panels
    ]


def _flat(points: Points) -> list[float]:
    return [round(x, 1) for point in points for x in point]


def _left_of(canvas: Box, holes: Sequence[Outline]) -> list[list[float]]:
    if not holes:
        return []
    from guidekit.plane.rings import rings_of, without  # few pages have panels above each other

    return [_flat(ring) for ring in without(rings_of([canvas]), rings_of(holes))]


def _number_at(panel: Panel, size: int, sheet: PlannedPage) -> list[float]:
    """The upper left of a panel's number, `size` pixels high: where the canvas has it, or near."""
    if isinstance(panel.outline, Box) and not panel.cut_out:
        return [panel.outline.left + size // 2, panel.outline.top + size // 2]
    from guidekit.layers.guides.numbers import Surroundings, nearest_corner

    room = Box(-size // 2, -size // 2, size * len(str(panel.number)), size * 3 // 2)
    ground = Surroundings(sheet.canvas.boxes.bleed, None, size, None, False)
    place = nearest_corner(panel.outline, panel.cut_out, room, ground)
    return [*(place or (panel.box.left, panel.box.top))]


def measures(px: int, dpi: int) -> dict[str, str]:
    """So many pixels in millimetres, inches and pixels, for people."""
    inches = Fraction(px, dpi)
    return {"mm": decimal(inches * INCH_IN_MM, 1), "in": decimal(inches, 3), "px": str(px)}
