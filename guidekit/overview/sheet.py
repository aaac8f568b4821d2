"""Pages as they face each other, laid out in rows on sheets."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from textwrap import wrap
from typing import NamedTuple

from guidekit.overview.openings import Opening, View
from guidekit.overview.papers import Paper
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline
from guidekit.raster.text import text_width

HEAD = 9  # heights of capitals: a title and two lines below it


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


def heading_size(tall: int) -> int:
    """The height of capitals of a section's title."""
    return capitals(tall) * 3 // 2


def _heading_width(words: str, tall: int) -> int:
    return text_width(words, heading_size(tall))


def _size(view: View, scale: float) -> tuple[int, int]:
    return round(view.seen.width * scale), round(view.seen.height * scale)
