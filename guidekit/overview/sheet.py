"""Pages as they face each other, laid out in rows on sheets: each sheet a stack of layers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from textwrap import wrap
from typing import NamedTuple

from guidekit.geometry.page import Panel
from guidekit.layers.model import Layer, Stack
from guidekit.layers.panels import shape_of
from guidekit.overview.colours import INK, PAPER, PENCIL, RED, WASH
from guidekit.overview.numbers import large_numbers
from guidekit.overview.one_page import lines_round
from guidekit.overview.openings import Opening, View
from guidekit.overview.papers import Paper
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline, box_of
from guidekit.raster.shapes import Rule, Shape, outline
from guidekit.raster.text import Text, text_width

HEAD = 9  # heights of capitals: a title and two lines below it
LEAST = 5  # px: lower digits cannot be read


class PlacedPage(NamedTuple):
    """Where a page lies on its sheet: its upper left corner, and pixels for one of its canvas."""

    view: View
    x: int
    y: int
    scale: float

    def box(self, box: Box) -> Box:
        """A box of the canvas on the sheet."""
        seen = self.view.seen

        def across(x: int) -> int:
            return self.x + round((x - seen.left) * self.scale)

        def down(y: int) -> int:
            return self.y + round((y - seen.top) * self.scale)

        return Box(across(box.left), down(box.top), across(box.right), down(box.bottom))

    def outline(self, shape: Outline) -> Outline:
        """An outline of the canvas on the sheet."""
        if isinstance(shape, Box):
            return self.box(shape)
        seen = self.view.seen
        return tuple(
            (self.x + (x - seen.left) * self.scale, self.y + (y - seen.top) * self.scale)
            for x, y in shape
        )


@dataclass
class Sheet:
    """Pages on one sheet, headings and lines with their places, its lower end, height of pages."""

    places: list[PlacedPage] = field(default_factory=list)
    headings: list[tuple[str, int, int]] = field(default_factory=list)
    lines: list[tuple[str, int, int]] = field(default_factory=list)
    bottom: int = 0
    tall: int = 0


def sheets(openings: Sequence[Opening], paper: Paper, rtl: bool) -> list[Sheet]:
    """The openings in rows, as large as one sheet allows, or on several."""
    for tall in paper.pages:
        found = [*_rows(openings, paper, tall, rtl)]
        if len(found) == 1:
            break
    return found


def _rows(openings: Sequence[Opening], paper: Paper, tall: int, rtl: bool) -> Iterator[Sheet]:
    first = next((v for opening in openings for v in opening.views if v.plan.numbers), None)
    first = first or openings[0].views[0]
    scale = _scale(first, paper, tall)
    gap, below = max(6, tall // 8), _below(tall)
    room = round(first.seen.width * scale)
    sheet, x, y, reach = Sheet(tall=tall), paper.margin, paper.margin + HEAD * capitals(tall), 0
    for opening in openings:
        sizes = [_size(view, scale) if view else (room, tall) for view in opening.places]
        width, height = sum(w for w, _ in sizes), max(h for _, h in sizes)
        heading = _below(tall) if opening.section else 0
        if (x > paper.margin and x + width > paper.width - paper.margin) or heading:
            if reach:
                x, y = paper.margin, y + reach + below + gap
            reach = 0
        if paper.height and y + heading + height + below > paper.height - paper.margin:
            yield sheet
            sheet, x, y, reach = Sheet(tall=tall), paper.margin, paper.margin, 0
        if opening.section:
            at = paper.width - x - _heading_width(opening.section, tall) if rtl else x
            sheet.headings.append((opening.section, at, y))
            y += heading
        at = x
        if rtl:
            at = paper.width - x - width
        pairs = [*zip(opening.places, sizes, strict=True)]
        for view, (w, _) in reversed(pairs) if rtl else pairs:
            if view:
                sheet.places.append(PlacedPage(view, at, y, scale))
            at += w
        x, reach = x + width + gap, max(reach, height)
        sheet.bottom = max(sheet.bottom, y + reach + below)
    yield sheet


def _scale(view: View, paper: Paper, tall: int) -> float:
    """Pixels for one of a canvas: so tall, or a third as wide, but no taller than the paper."""
    scale = max(tall / view.seen.height, tall / 3 / view.seen.width)
    if paper.height:
        room = paper.height - 2 * paper.margin - HEAD * capitals(tall) - _below(tall)
        scale = min(scale, max(room, tall) / view.seen.height)
    return scale


def with_lines(found: Sequence[Sheet], said: Sequence[str], paper: Paper) -> list[Sheet]:
    """The sheets with what is `said` below the last pages, on more of them where there is no room.

    Each begins a line, and goes on where it is longer than the paper is wide.
    """
    found, sheet = [*found], found[-1]
    size, room = capitals(sheet.tall), paper.width - 2 * paper.margin
    y = sheet.bottom + 2 * size
    for line in (line for words in said for line in _broken(words, size, room)):
        if paper.height and y + 2 * size > paper.height - paper.margin:
            sheet = Sheet(tall=sheet.tall)
            found.append(sheet)
            y = paper.margin
        sheet.lines.append((line, paper.margin, y))
        y += 2 * size
        sheet.bottom = y
    return found


def _broken(words: str, size: int, room: int) -> list[str]:
    """Words in lines that find room, by how wide a letter is in the middle."""
    letters = len(words) * room * 9 // (10 * max(1, text_width(words, size)))
    return wrap(words, max(20, letters))


def _below(tall: int) -> int:
    """Room below a page for its number and a line of words."""
    return 4 * capitals(tall)


def capitals(tall: int) -> int:
    """The height of capitals that goes with pages so tall."""
    return max(7, tall // 22)


def _heading_size(tall: int) -> int:
    return capitals(tall) * 3 // 2


def _heading_width(words: str, tall: int) -> int:
    return text_width(words, _heading_size(tall))


def _size(view: View, scale: float) -> tuple[int, int]:
    return round(view.seen.width * scale), round(view.seen.height * scale)


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
        yield Text(heading, x, y, _heading_size(sheet.tall))
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
