"""One page, large, and layouts in its shape, as plain data."""

from __future__ import annotations

from guidekit.errors import InputError
from guidekit.issue.reading import number_of_panels
from guidekit.planner.choices import brought_by
from guidekit.planner.draft import Draft, problems_of_page
from guidekit.planner.edits.contents import gutter_value
from guidekit.planner.handles import Handle
from guidekit.planner.knobs import Knob, knobs_of
from guidekit.planner.panel_view import measures, panels_data
from guidekit.planner.picture import Data, picture_of, plain, problem_data
from guidekit.planner.planned_page import PlannedPage
from guidekit.toml.rearrange import entry_in


def page_data(book: Draft, page: int, side: str | None = None) -> Data:
    """One page, large, with all that can be changed on it; raises `InputError`.

    Of pages alike it is the first, or the first on a side; ``sides`` are those on which they lie
    where they differ by side, else none.
    """
    entry = book.entry(page, side)
    line, text = entry_in(book.text, "pages", page)
    data: Data = {"entry": page, "line": line, "text": text, "version": book.version}
    data["sides"] = book.sides(page)
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
        "panels": panels_data(sheet) if len(sheet.canvases) == 1 else [],
        "plain": picture["panels"] if len(sheet.canvases) > 1 else [],
        "edges": [_handle(handle, dpi) for handle in sheet.handles],
        "knobs": [_knob(knob, dpi) for knob in knobs_of(sheet)],
    }


def _knob(knob: Knob, dpi: int) -> Data:
    at, sizes = [round(x, 1) for x in knob.at], [measures(px, dpi) for px in knob.sizes]
    return {"kind": knob.kind, "of": knob.of, "nth": knob.nth, "at": at, "sizes": sizes}


def _handle(handle: Handle, dpi: int) -> Data:
    begin, end = handle.spans[handle.gap][1], handle.spans[handle.gap + 1][0]
    first, last = (end[handle.axis == "down"] for end in (handle.line.start, handle.line.end))
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
        "kind": page.kind,
        "reveal": page.reveal,
        "section": plain(values.get("section")),
        "folio": page.folio,
        "count": page.count,
        "spread": page.spread,
        "panel": plain(values.get("panel", {})),
        "insets": plain(values.get("insets", [])),
        "scroll": plain(values.get("scroll", [])),
        "own_guides": plain(values.get("guides", {})),
    }


def shelf_data(book: Draft, page: int, panels: int | None, side: str | None = None) -> list[Data]:
    """Layouts in the shape of this very page, of so many panels; raises `InputError`."""
    sheet = book.sheet(page, side)
    assert book.loaded
    found: list[Data] = []
    layouts = book.loaded.layouts
    spread = {"spread": True} if sheet.entry.page.spread else {}
    own = {"gutter": sheet.values["gutter"]} if "gutter" in sheet.values else {}
    for entry in layouts.entries.values():
        try:
            if panels and number_of_panels(entry.thing, layouts) != panels:
                continue
            tried = sheet.changed({"panels": entry.name, **spread, **own})
        except InputError:
            continue  # wrong in its file, made for a spread, or with too little room here
        about = {"name": entry.name, "about": entry.thing.about, "count": len(tried.boxes)}
        found.append(about | {"from": brought_by(entry.owner)} | picture_of(tried))
    found.sort(key=lambda row: row["count"])
    return found
