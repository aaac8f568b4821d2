"""The book and its pages as plain data: the browser draws them and computes no box of its own."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from fractions import Fraction
from typing import Any

from guidekit.errors import InputError, Problem, key_text, sentence
from guidekit.geometry.canvas import Canvas
from guidekit.issue.order import PageEntry
from guidekit.issue.reading import number_of_panels
from guidekit.plane.outline import box_of, points_of
from guidekit.planner.desk import Book, Desk, problems_of_page
from guidekit.planner.edits.contents import gutter_value
from guidekit.planner.sheet import Handle, Sheet
from guidekit.preset.guides import switched
from guidekit.toml.rearrange import entry_in
from guidekit.units import INCH_IN_MM, decimal

Data = dict[str, Any]


def book_data(desk: Desk) -> Data:
    """All pages, small, in openings as they face each other, and what is wrong with the file.

    ``shapes`` are the pictures of pages, of pages alike once.
    """
    book = desk.book
    data: Data = {
        "version": book.version,
        "file": desk.path.name,
        "undo": desk.can_undo,
        "redo": desk.can_redo,
        "problems": [problem_data(problem) for problem in book.problems],
        "text": book.text if book.problems else "",
        "pages": [],
        "shapes": [],
        "openings": [],
    }
    if book.loaded:
        data |= _of_issue(book) | _pages(book, data["problems"])
        data["problems"].sort(key=lambda problem: problem["line"] or 0)
    return data


def _of_issue(book: Book) -> Data:
    assert book.loaded
    issue, preset = book.loaded.issue, book.loaded.preset
    size = preset.page_size
    return {
        "title": issue.title,
        "number": issue.number,
        "count": book.loaded.pages,
        "direction": book.loaded.direction,
        "facing": preset.facing,
        "preset": book.loaded.preset_name,
        "preset_title": preset.title,
        "caution": preset.caution,
        "size": f"{decimal(size.width.value)} × {decimal(size.height.value)} {size.width.unit}",
        "dpi": preset.dpi,
        "unit": book.unit,
        "folder": book.loaded.file_name,
    }


def _pages(book: Book, problems: list[Data]) -> Data:
    assert book.loaded
    shapes: dict[str, int] = {}
    pictures: list[Data] = []
    pages: list[Data] = []
    seen: dict[Any, tuple[int | None, bool]] = {}
    nth: dict[Any, int] = {}
    for entry in book.loaded.entries:
        alike = (entry.key, entry.side, book.rules.taken_off(entry))
        nth[entry.key] = nth.get(entry.key, -1) + 1
        if alike not in seen:
            sheet, wrong = problems_of_page(book, entry)
            known = [problem_data(problem) for problem in wrong]
            problems += [problem for problem in known if problem not in problems]
            picture = picture_of(sheet) if sheet else _bare(book, entry)
            key = repr(picture)
            if key not in shapes:
                shapes[key] = len(pictures)
                pictures.append(picture)
            seen[alike] = shapes[key], bool(wrong)
        shape, is_wrong = seen[alike]
        pages.append(
            {
                "numbers": entry.numbers,
                "side": entry.side,
                "entry": entry.key[1],
                "nth": nth[entry.key],
                "alike": entry.page.count,
                "shape": shape,
                "wrong": is_wrong,
                "note": entry.page.note or "",
            }
        )
    return {"pages": pages, "shapes": pictures, "openings": openings(book, pages)}


def openings(book: Book, pages: list[Data]) -> list[list[int]]:
    """Pages that face each other, by their places in the list, from left to right."""
    assert book.loaded
    backward = book.loaded.direction == "rtl"
    groups: list[list[int]] = []
    for i, page in enumerate(pages):
        second = len(page["numbers"]) == 1 and page["numbers"][0] % 2 == 1
        faces = book.loaded.preset.facing and second and groups and i
        if faces and len(pages[i - 1]["numbers"]) == 1 and page["numbers"][0] > 1:
            groups[-1].append(i)
        else:
            groups.append([i])
    return [group[::-1] if backward else group for group in groups]


def picture_of(sheet: Sheet) -> Data:
    """The trim of a page and the corners of its panels, all canvases of a scroll below each other.

    Pixels of the canvas, whole ones.
    """
    width = max(canvas.boxes.canvas.width for canvas in sheet.canvases)
    height, panels = 0, []
    for canvas in sheet.canvases:
        panels += [_flat(points_of(panel.outline), height) for panel in canvas.panels]
        height += canvas.boxes.canvas.height
    boxes = sheet.canvas.boxes
    trim = boxes.trim.as_list() if len(sheet.canvases) == 1 else [0, 0, width, height]
    return {"size": [width, height], "trim": trim, "fold": boxes.fold, "panels": panels}


def _bare(book: Book, entry: PageEntry) -> Data:
    boxes = book.rules.boxes[entry.side]
    trim = boxes.trim.as_list()
    return {"size": list(boxes.canvas.size), "trim": trim, "fold": boxes.fold, "panels": []}


def _flat(points: Iterable[tuple[float, float]], down: int = 0) -> list[int]:
    return [round(x) for point in points for x in (point[0], point[1] + down)]


def problem_data(problem: Problem) -> Data:
    """A problem as the browser shows it."""
    page = problem.key[1] if problem.key[:1] == ("pages",) and len(problem.key) > 1 else None
    return {
        "line": problem.line,
        "key": key_text(problem.key),
        "told": sentence(problem),
        "page": page,
    }


def page_data(book: Book, page: int) -> Data:
    """One page, large, with all that can be changed on it; raises `InputError`."""
    entry = book.entry(page)
    line, text = entry_in(book.text, "pages", page)
    data: Data = {"entry": page, "line": line, "text": text, "version": book.version}
    sheet, problems = problems_of_page(book, entry)
    if not sheet:
        return data | {"problems": [problem_data(problem) for problem in problems]}
    return data | {"problems": []} | sheet_data(sheet) | {"said": said_of(book, sheet)}


def sheet_data(sheet: Sheet) -> Data:
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


def _panels(sheet: Sheet, canvas: Canvas, dpi: int) -> list[Data]:
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


def said_of(book: Book, sheet: Sheet) -> Data:
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


def shelf_data(book: Book, page: int, panels: int | None) -> list[Data]:
    """Layouts in the shape of this very page, of so many panels; raises `InputError`."""
    assert book.loaded
    sheet = book.sheet(page)
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
