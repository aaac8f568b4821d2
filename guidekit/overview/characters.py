"""The issue in characters, for a terminal: panels framed by lines, leaning ones too."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import zip_longest

from guidekit.memory import remembered
from guidekit.overview.openings import Opening, View
from guidekit.pictures import FINE, NO_PANEL, Numbered, framed
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline, points_of
from guidekit.plane.polygon import Points

ROWS = 13  # of a page; a character is about twice as tall as wide
NARROW, LONGEST = 24, 60  # columns of a part of a scroll, and its rows at most
WIDEST = 60  # columns of a page
GAP = "   "

Shown = tuple[int, Outline, tuple[Outline, ...]]  # a panel's number, its outline, what lies above


def text_of(openings: Sequence[Opening], width: int, rtl: bool) -> Iterator[str]:
    """Lines of at most `width` columns where one opening fits; a blank line between rows."""
    row: list[list[str]] = []
    for opening in openings:
        block = _opening(opening, rtl)
        taken = sum(len(one[0]) + len(GAP) for one in row)
        if row and (taken + len(block[0]) > width or opening.section):
            yield from _beside(row, rtl)
            row = []
        if opening.section:
            yield opening.section
        row.append(block)
    yield from _beside(row, rtl)


def _beside(row: Sequence[Sequence[str]], rtl: bool) -> Iterator[str]:
    """Blocks side by side, and a blank line."""
    blocks = row[::-1] if rtl else row
    for lines in zip_longest(*blocks):
        parts = (line or " " * len(block[0]) for line, block in zip(lines, blocks, strict=True))
        yield GAP.join(parts).rstrip()
    yield ""


def _opening(opening: Opening, rtl: bool) -> list[str]:
    """Facing pages with a line for the fold between them, and their numbers below."""
    shown = [_page(view) if view else [] for view in opening.places]
    width = max(len(lines[0]) for lines in shown if lines)
    height = max(len(lines) for lines in shown)
    for lines in shown:
        lines += [" " * (len(lines[0]) if lines else width)] * (height - len(lines))
    pages = shown[::-1] if rtl else shown
    there = [bool(view) for view in opening.places]
    fold = "┊" if all(there) and len(there) == 2 else " "
    return [fold.join(parts) for parts in zip(*pages, strict=True)]


def _page(view: View) -> list[str]:
    seen = view.seen
    columns, rows = min(WIDEST, round(2 * ROWS * seen.width / seen.height)), ROWS
    if 2 * columns < NARROW or view.plan.part:
        columns = NARROW
        rows = min(LONGEST, max(3, round(columns * seen.height / seen.width / 2)))
    shapes = tuple((panel.number, panel.sharp, panel.cut_out) for panel in view.plan.panels)
    shapes = shapes or tuple((NO_PANEL, one.trim, ()) for one in view.plan.boxes.pages)
    picture = _framed(shapes, seen, columns, rows)
    marks = ["reveal"] if view.plan.reveal else []
    marks += [view.plan.kind] if view.plan.kind != "story" else []
    caption = " ".join([view.label, *marks, *(["!"] if view.cautions else [])])
    return [*picture, *(line[:columns].center(columns) for line in (caption, view.state) if line)]


@remembered
def _framed(shapes: tuple[Shown, ...], seen: Box, columns: int, rows: int) -> list[str]:
    """Shapes stretched so that what is seen of the page fills the rows and columns."""
    across, down = columns * FINE / seen.width, rows * FINE * 2 / seen.height

    def stretched(shape: Outline) -> Points:
        return tuple(((x - seen.left) * across, (y - seen.top) * down) for x, y in points_of(shape))

    return framed(
        [
            Numbered(number, stretched(shape), tuple(map(stretched, covered)))
            for number, shape, covered in shapes
        ],
        columns,
        rows,
    )
