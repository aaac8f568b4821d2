"""One page, large, and layouts in its shape, as plain data."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from guidekit.errors import InputError
from guidekit.geometry.canvas import Canvas
from guidekit.issue.reading import number_of_panels
from guidekit.plane.outline import box_of, points_of
from guidekit.planner.draft import Draft, problems_of_page
from guidekit.planner.edits.contents import gutter_value
from guidekit.planner.picture import Data, picture_of, problem_data
from guidekit.planner.planned_page import Handle, PlannedPage
from guidekit.preset.guides import switched
from guidekit.toml.rearrange import entry_in
from guidekit.units import INCH_IN_MM, decimal


def page_data(book: Draft, page: int) -> Data:
    """One page, large, with all that can be changed on it; raises `InputError`."""
    entry = book.entry(page)
    line, text = entry_in(book.text, "pages", page)
    data: Data = {"entry": page, "line": line, "text": text, "version": book.version}
    sheet, problems = problems_of_page(book, entry)
    if not sheet:
        return data | {"problems": [problem_data(problem) for problem in problems]}
    return data | {"problems": []} | sheet_data(sheet) | {"said": said_of(book, sheet)}


def sheet_data(sheet: PlannedPage) -> Data:
    """Where everything on a page lies: in pixels of its canvas, and its sizes for people."""
    canvas, dpi = sheet.canvas, sheet.rules.book.dpi
    picture = picture_of(sheet)
    boxes = canvas.boxes
    return {
        "numbers": sheet.entry.numbers,
        "side": sheet.entry.side,
        "shaped": sheet.can_be_shaped,
        "size": picture["size"],
        "trim": picture["trim"],
        "fold": picture["fold"],
        "bleed": boxes.bleed.as_list(),
        "safe": [one.safe_area.as_list() for one in boxes.pages],
        "panels": _panels(sheet, canvas, dpi) if len(sheet.canvases) == 1 else [],
        "plain": picture["panels"] if len(sheet.canvases) > 1 else [],
        "edges": [_handle(handle, dpi) for handle in sheet.handles],
    }


def _panels(sheet: PlannedPage, canvas: Canvas, dpi: int) -> list[Data]:
    insets = (
        {laid.number: laid.key[1] for laid in sheet.numbering.insets} if sheet.numbering else {}
    )
    ends = {
        sheet.printed[place.number]: sorted(place.region.ends)
        for area in sheet.areas
        for place in area.found.panels
    }
    return [
        {
            "number": panel.number,
            "points": [round(x, 1) for point in points_of(panel.outline) for x in point],
            "box": panel.box.as_list(),
            "width": measures(panel.box.width, dpi),
            "height": measures(panel.box.height, dpi),
            "border": panel.border.weight if panel.border else 0,
            "bleed": sorted(panel.bleed),
            "ends": ends.get(panel.number, []),
            "inset": insets.get(panel.number),
            "cut": [box_of(cut).as_list() for cut in panel.cut_out],
        }
        for panel in canvas.panels
    ]


def _handle(handle: Handle, dpi: int) -> Data:
    begin, end = handle.spans[handle.gap][1], handle.spans[handle.gap + 1][0]
    first, last = handle.middle + handle.lean / 2, handle.middle - handle.lean / 2
    if handle.axis == "down":  # a level line falls to the right
        first, last = last, first
    low, high = handle.limits
    return {
        "axis": handle.axis,
        "from": handle.begin,
        "to": handle.end,
        "first": round(first, 1),
        "last": round(last, 1),
        "middle": handle.middle,
        "limits": handle.limits,
        "leans": handle.name != "map",
        "slant": handle.slants[handle.gap] if handle.slants else "",
        "gap": measures(handle.width, dpi),
        "before": measures(begin - low, dpi),
        "behind": measures(high - end, dpi),
    }


def measures(px: int, dpi: int) -> dict[str, str]:
    """So many pixels in millimetres, inches and pixels, for people."""
    inches = Fraction(px, dpi)
    return {"mm": decimal(inches * INCH_IN_MM, 1), "in": decimal(inches, 3), "px": str(px)}


def said_of(book: Draft, sheet: PlannedPage) -> Data:
    """What a page says in its file that is told in sentences, and what holds where it is silent."""
    assert book.loaded
    page, values, preset = sheet.entry.page, sheet.values, book.loaded.preset
    gutter = page.gutter or preset.gutter
    return {
        "layout": values["panels"] if isinstance(values.get("panels"), str) else "",
        "gutter": gutter_value(gutter),
        "own_gutter": "gutter" in values,
        "radius": str(preset.radius if page.radius is None else page.radius),
        "own_radius": "radius" in values,
        "border": str(preset.border),
        "note": page.note or "",
        "count": page.count,
        "spread": page.spread,
        "panel": _plain(values.get("panel", {})),
        "insets": _plain(values.get("insets", [])),
        "guides": dict(switched(preset.guides, book.loaded.issue.guides, page.guides)),
        "own_guides": _plain(values.get("guides", {})),
    }


def _plain(value: Any) -> Any:
    """Data that JSON can hold: dates and times of a strange file as text."""
    if isinstance(value, Mapping):
        return {str(key): _plain(inner) for key, inner in value.items()}
    if isinstance(value, (list, tuple)):
        return [_plain(item) for item in value]
    return value if isinstance(value, (str, int, float, bool)) else str(value)


def shelf_data(book: Draft, page: int, panels: int | None) -> list[Data]:
    """Layouts in the shape of this very page, of so many panels; raises `InputError`."""
    sheet = book.sheet(page)
    assert book.loaded
    found: list[Data] = []
    layouts = book.loaded.layouts
    spread = {"spread": True} if sheet.entry.page.spread else {}
    for name, layout in zip(layouts, layouts.things(), strict=True):
        try:
            if panels and number_of_panels(layout, layouts) != panels:
                continue
            own = {"gutter": sheet.values["gutter"]} if "gutter" in sheet.values else {}
            tried = sheet.changed({"panels": name, **spread, **own})
        except InputError:
            continue  # made for a spread, or with too little room here
        about = {"name": name, "about": layout.about, "count": len(tried.boxes)}
        found.append(about | picture_of(tried))
    found.sort(key=lambda row: row["count"])
    return found
