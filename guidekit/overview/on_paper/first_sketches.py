"""Sheets for first sketches: every page small, in true proportion, with lines for notes below."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from guidekit.layers.model import Group, Layer, Stack
from guidekit.overview.colours import PENCIL
from guidekit.overview.one_page import lines_round
from guidekit.overview.openings import Opening, View
from guidekit.overview.sheet import PlacedPage
from guidekit.plane.box import Box
from guidekit.raster.blend import Colour
from guidekit.raster.shapes import Rule, Shape, outline
from guidekit.raster.text import Text

DPI = 300
PAPERS = {"a4": (2480, 3508), "letter": (2550, 3300)}  # px: ISO 216:2007; ASME Y14.1, size A
MARGIN, GAP = 118, 71  # px: 10 and 6 mm
NOTES, PITCH = 3, 83  # lines for notes at least, and px from one to the next: 7 mm
LABEL = 59  # px of room for page numbers: 5 mm
PALE: Colour = (164, 221, 237)  # non-photo blue, to draw over
LINE = 3  # px: a quarter of a millimetre
MOST = 64  # pages on a sheet


@dataclass(frozen=True)
class Sketches:
    """A paper of `PAPERS`, about how many pages are on a sheet, whether panels are shown."""

    paper: str = "a4"
    pages: int = 8
    panels: bool = False


class _Grid(NamedTuple):
    """Columns and rows of openings, and pixels of the sheet for one of a canvas."""

    columns: int
    rows: int
    scale: float


def sketch_sheets(
    openings: Sequence[Opening], wish: Sketches, title: str, rtl: bool
) -> Iterator[Stack]:
    """One stack a sheet; the first layer is empty, to sketch on.

    Pages have one scale; a cover that is wider than two of them is smaller.
    """
    inside = [opening for opening in openings if any(v.plan.numbers for v in opening.views)]
    size = PAPERS[wish.paper]
    most = max(len(opening.places) for opening in inside)
    wide = max(_width(opening, 1.0) for opening in inside)
    tall = max(view.plan.boxes.trim.height for opening in inside for view in opening.views)
    grid = _grid(max(1, -(-wish.pages // max(most, _pages_of(inside)))), wide, tall, size)
    step = grid.columns * grid.rows
    sheets = [openings[at : at + step] for at in range(0, len(openings), step)]
    for number, some in enumerate(sheets, 1):
        words = f"{title}, sheet {number} of {len(sheets)}"
        yield _sheet(some, grid, wish, words, rtl)


def _pages_of(openings: Sequence[Opening]) -> int:
    """Two where pages face each other, also if all of them are spreads."""
    return max(len(view.plan.numbers) for opening in openings for view in opening.views)


def _width(opening: Opening, scale: float) -> int:
    """How wide an opening is; a place without a page is as wide as the one beside it."""
    widths = [view.plan.boxes.trim.width for view in opening.views]
    return round(max(sum(widths), max(widths) * len(opening.places)) * scale)


def _grid(count: int, wide: int, tall: int, size: tuple[int, int]) -> _Grid:
    """So many openings to a sheet, as large as can be."""
    across, down = size[0] - 2 * MARGIN, size[1] - 2 * MARGIN - LABEL
    best = _Grid(1, 1, 0.0)
    for columns in range(1, count + 1):
        rows = -(-count // columns)
        below = LABEL + NOTES * PITCH
        scale = min(
            ((across - (columns - 1) * GAP) / columns) / wide,
            ((down - (rows - 1) * GAP) / rows - below) / tall,
        )
        best = max(best, _Grid(columns, rows, scale), key=lambda grid: grid.scale)
    return best


def _sheet(some: Sequence[Opening], grid: _Grid, wish: Sketches, words: str, rtl: bool) -> Stack:
    width, height = PAPERS[wish.paper]
    canvas = Box(0, 0, width, height)
    cell = (width - 2 * MARGIN - (grid.columns - 1) * GAP) // grid.columns
    high = (height - 2 * MARGIN - LABEL - (grid.rows - 1) * GAP) // grid.rows
    places: list[PlacedPage] = []
    notes: list[Shape] = []
    for at, opening in enumerate(some):
        row, column = divmod(at, grid.columns)
        column = grid.columns - 1 - column if rtl else column
        x = MARGIN + column * (cell + GAP)
        y = MARGIN + LABEL + row * (high + GAP)
        scale = min(grid.scale, cell / _width(opening, 1.0))
        placed = [*_places(opening, x + (cell - _width(opening, scale)) // 2, y, scale, rtl)]
        places += placed
        bottom = max(place.box(_trim(place.view)).bottom for place in placed) + LABEL
        notes += [
            Rule(Box(x, bottom + n * PITCH - LINE, x + cell, bottom + n * PITCH))
            for n in range(1, max(NOTES, (y + high - bottom) // PITCH) + 1)
        ]
    labels = [Text(words, MARGIN, MARGIN - LABEL // 2, 30), *map(_label, places)]
    guides = (
        Layer("Words", tuple(labels), PENCIL),
        Layer("Lines for notes", tuple(notes), PALE),
        Layer("Safe area", tuple(_safe(places)), PALE),
        Layer("Panels", tuple(_panels(places)), PALE, visible=wish.panels),
        Layer("Trim", tuple(_trims(places)), PENCIL),
    )
    sketch = Layer("Sketch")
    members = (
        sketch,
        Group("Pages", guides, locked=True, label="blue"),
        Layer("Paper", (Rule(canvas),), (255, 255, 255), locked=True, backdrop=True),
    )
    return Stack("", canvas, DPI, False, 8, (255, 255, 255), members, selected=sketch, title=words)


def _trim(view: View) -> Box:
    return view.plan.boxes.trim


def _places(opening: Opening, x: int, y: int, scale: float, rtl: bool) -> Iterator[PlacedPage]:
    """Pages side by side from x on, trims against each other."""
    alone = max(_trim(view).width for view in opening.views)
    for view in opening.places[::-1] if rtl else opening.places:
        width = round((_trim(view).width if view else alone) * scale)
        if view:
            seen, trim = view.seen, _trim(view)
            left = x - round((trim.left - seen.left) * scale)
            yield PlacedPage(view, left, y - round((trim.top - seen.top) * scale), scale)
        x += width


def _trims(places: Sequence[PlacedPage]) -> Iterator[Shape]:
    for place in places:
        yield from outline(place.box(_trim(place.view)), LINE)
        boxes = place.view.plan.boxes
        for fold in boxes.all_folds:
            there = place.box(Box(fold, boxes.trim.top, fold, boxes.trim.bottom))
            yield Rule(Box(there.left - 1, there.top, there.left + 2, there.bottom))


def _safe(places: Sequence[PlacedPage]) -> Iterator[Shape]:
    for place in places:
        for safe in place.view.plan.safe_areas:
            yield from outline(place.box(safe), LINE, (12, 9))


def _panels(places: Sequence[PlacedPage]) -> Iterator[Shape]:
    for place in places:
        for panel in place.view.plan.panels:
            yield from lines_round(place.outline(panel.sharp), LINE)


def _label(place: PlacedPage) -> Text:
    box = place.box(_trim(place.view))
    note = f"  {place.view.plan.note}" if place.view.plan.note else ""
    return Text(f"{place.view.label}{note}", box.left, box.bottom + 14, 24)
