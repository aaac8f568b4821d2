"""A sheet with its pages as a stack of layers in plain colours."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from guidekit.geometry.page import Panel
from guidekit.layers.model import Layer, Stack
from guidekit.layers.panels import shape_of
from guidekit.overview.colours import INK, PAPER, PENCIL, RED, WASH
from guidekit.overview.numbers import large_numbers
from guidekit.overview.one_page import lines_round
from guidekit.overview.papers import Paper
from guidekit.overview.sheet import PlacedPage, Sheet, capitals, heading_size
from guidekit.plane.box import Box
from guidekit.plane.outline import box_of
from guidekit.raster.shapes import Rule, Shape, outline
from guidekit.raster.text import Text, text_width

LEAST = 5  # px: lower digits cannot be read


def drawn(sheet: Sheet, words: Sequence[str], paper: Paper, name: str) -> Stack:
    """A sheet as layers in plain colours, with lines of `words` at its top."""
    height = paper.height or sheet.bottom + paper.margin
    canvas = Box(0, 0, paper.width, height)
    tall = sheet.tall
    line, small = max(1, tall // 160), capitals(tall)
    members = [
        Layer("Words", tuple(_words(sheet, words, paper, small)), INK),
        Layer("Notes", tuple(_notes(sheet, small)), PENCIL),
        Layer("Marks", tuple(_marks(sheet, small)), RED),
        Layer("Numbers", tuple(_numbers(sheet)), PENCIL),
        Layer("Page turns", tuple(_turns(sheet)), PENCIL),
        Layer("Folds", tuple(_folds(sheet, line)), PENCIL),
        *_panels(sheet, line),
        Layer("Trim", tuple(_trims(sheet, line)), PENCIL),
        Layer("Pages", tuple(Rule(p.box(p.view.plan.boxes.trim)) for p in sheet.places), PAPER),
        Layer("Paper", (Rule(canvas),), paper.colour, backdrop=True),
    ]
    return Stack(name, canvas, paper.dpi, False, 8, paper.colour, tuple(members), title=name)


def thumbnails(sheet: Sheet) -> list[tuple[Box, bytes]]:
    """The pictures of what is drawn, with their places."""
    return [
        (place.box(place.view.seen), place.view.thumbnail)
        for place in sheet.places
        if place.view.thumbnail
    ]


def _panels(sheet: Sheet, line: int) -> Iterator[Layer]:
    """Borders over areas; what lies over other panels above those, the uppermost first."""
    levels: dict[int, list[tuple[PlacedPage, Panel]]] = {}
    for place in sheet.places:
        for panel in place.view.plan.panels:
            levels.setdefault(_level(panel, place.view.plan.panels), []).append((place, panel))
    for level, found in sorted(levels.items(), reverse=True):
        suffix = f" {level + 1}" if level else ""
        borders = (
            shape
            for place, panel in found
            if panel.border
            for shape in lines_round(place.outline(panel.sharp), line)
        )
        yield Layer(f"Borders{suffix}", tuple(borders), INK)
        areas = (shape_of(place.outline(panel.sharp)) for place, panel in found)
        yield Layer(f"Panels{suffix}", tuple(areas), WASH)


def _level(panel: Panel, panels: Sequence[Panel]) -> int:
    """How many panels a panel lies over, one on the other."""
    cuts = (cut for other in panels if other.number != panel.number for cut in other.cut_out)
    return sum(box_of(cut).holds(panel.box) for cut in cuts)


def _trims(sheet: Sheet, line: int) -> Iterator[Shape]:
    for place in sheet.places:
        yield from outline(place.box(place.view.plan.boxes.trim), line)


def _folds(sheet: Sheet, line: int) -> Iterator[Shape]:
    for place in sheet.places:
        boxes = place.view.plan.boxes
        for x in boxes.all_folds:
            there = place.box(Box(x, boxes.trim.top, x, boxes.trim.bottom))
            yield Rule(Box(there.left, there.top, there.left + line, there.bottom))


def _turns(sheet: Sheet) -> Iterator[Shape]:
    for place in sheet.places:
        if place.view.corner:
            yield shape_of(place.outline(place.view.corner))


def _numbers(sheet: Sheet) -> Iterator[Shape]:
    for place in sheet.places:
        for text in large_numbers(place.view.plan):
            box = place.box(Box(text.x, text.y, text.x, text.y + text.height))
            if box.height >= LEAST:
                yield Text(text.text, box.left, box.top, box.height, text.font)


def _words(sheet: Sheet, words: Sequence[str], paper: Paper, small: int) -> Iterator[Shape]:
    y = paper.margin
    for size, line in zip((2 * small, small, small), words, strict=False):
        yield Text(line, paper.margin, y, size)
        y += 2 * size
    for heading, x, y in sheet.headings:
        yield Text(heading, x, y, heading_size(sheet.tall))
    for line, x, y in sheet.lines:
        yield Text(line, x, y, small)
    for place in sheet.places:
        yield _centred(place, place.view.label, 1, small)


def _notes(sheet: Sheet, small: int) -> Iterator[Shape]:
    for place in sheet.places:
        view = place.view
        kind = "" if view.plan.kind == "story" else view.plan.kind
        if said := " · ".join(filter(None, (kind, view.state, view.plan.note))):
            yield _centred(place, said, 4, small * 3 // 4)


def _marks(sheet: Sheet, small: int) -> Iterator[Shape]:
    """A reveal and a caution, as words at the upper edge of the page."""
    for place in sheet.places:
        view = place.view
        words = [*(["reveal"] if view.plan.reveal else []), *(["caution"] if view.cautions else [])]
        if words:
            yield _centred(place, ", ".join(words), -2, small * 3 // 4)


def _centred(place: PlacedPage, words: str, line: int, size: int) -> Text:
    """Words under the middle of a page, `line` line heights below it; cut to its width."""
    box = place.box(place.view.seen)
    room = max(box.width, 6 * size)  # a narrow page has words wider than itself
    while len(words) > 3 and text_width(words, size) > room:
        words = words[: len(words) * 4 // 5 - 1].rstrip("… ") + "…"
    x = (box.left + box.right - text_width(words, size)) // 2
    return Text(words, x, box.bottom + line * size if line > 0 else box.top + line * size, size)
