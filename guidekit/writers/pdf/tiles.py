"""A canvas on sheets of office paper: on one if it fits, else in tiles that overlap."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import product
from math import ceil
from typing import Literal

from guidekit.plane.box import Box
from guidekit.writers.pdf.lengths import INCH, MM, Placing, Rectangle
from guidekit.writers.pdf.sheets import PdfSheet, RulerStrip, SheetSize, page_of, placed

UNPRINTABLE = 5 * MM  # common practice, no source: what office printers leave white at each edge
OVERLAP = 10 * MM  # our choice: enough to glue
STRIP, GAP = 8 * MM, 1 * MM  # room for ruler and words, and what of it is left at the canvas
A4 = (210 * MM, 297 * MM)  # ISO 216:2007
LETTER = (Fraction(17, 2) * INCH, 11 * INCH)  # ANSI/ASME Y14.1, size A

Where = Literal["below", "beside", "over"]  # the strip: clear of the canvas, or over its edge


def common_sheets(canvas: Box, dpi: int, paper: SheetSize) -> list[PdfSheet]:
    """One sheet, upright or lying, or the fewest that cover the canvas, in rows from the top."""
    scale = INCH / dpi
    ways: list[list[PdfSheet]] = []
    for where, turned in product(("below", "beside", "over"), (paper, paper[::-1])):
        window, strip = _divided(turned, where)
        ways.append([*_tiles(canvas, scale, turned, window, strip)])
    clear, over = ways[:4], ways[4:]
    one_sheet = [way for way in over if len(way) == 1]  # no more than that for a clear strip
    return min([*clear, *one_sheet], key=len)


def _tiles(
    canvas: Box, scale: Fraction, paper: SheetSize, window: Rectangle, strip: RulerStrip
) -> Iterator[PdfSheet]:
    """The canvas in the middle of as many windows as it takes; what is over lies all round it."""
    width, height = canvas.width * scale, canvas.height * scale
    columns, rows = _number(width, window.width), _number(height, window.height)
    step_x, step_y = window.width - OVERLAP, window.height - OVERLAP
    spare_x, spare_y = columns * step_x + OVERLAP - width, rows * step_y + OVERLAP - height
    for row, column in product(range(rows), range(columns)):
        x = window.left + spare_x / 2 - column * step_x
        y = window.top - spare_y / 2 + row * step_y
        placing = placed(canvas, scale, x, y)
        several = rows * columns > 1
        place = f"row {row + 1} of {rows}, column {column + 1} of {columns}" if several else ""
        beyond = (column > 0, row < rows - 1, column < columns - 1, row > 0)
        crosses = tuple(_crosses(window, _shown(canvas, placing, window), beyond))
        yield PdfSheet(paper, placing, window, strip, place, crosses)


def _number(length: Fraction, window: Fraction) -> int:
    """How many windows cover a length when each overlaps the next."""
    return max(1, ceil((length - OVERLAP) / (window - OVERLAP)))


def _shown(canvas: Box, placing: Placing, window: Rectangle) -> Rectangle:
    """The part of the canvas that is seen in a window."""
    whole = placing.edges(canvas)
    return Rectangle(
        max(whole.left, window.left),
        max(whole.bottom, window.bottom),
        min(whole.right, window.right),
        min(whole.top, window.top),
    )


def _crosses(
    window: Rectangle, shown: Rectangle, beyond: tuple[bool, bool, bool, bool]
) -> Iterator[tuple[Fraction, Fraction]]:
    """Two in the middle of each overlap, a quarter of what is shown from either end.

    `beyond` says whether there is a sheet to the left, below, to the right and above.
    """
    inner, (left, bottom, right, top) = window.inset(OVERLAP / 2), beyond
    for x, there in ((inner.left, left), (inner.right, right)):
        if there:
            yield from ((x, shown.bottom + shown.height * part / 4) for part in (1, 3))
    for y, there in ((inner.bottom, bottom), (inner.top, top)):
        if there:
            yield from ((shown.left + shown.width * part / 4, y) for part in (1, 3))


def _divided(paper: SheetSize, where: Where) -> tuple[Rectangle, RulerStrip]:
    """The part of a sheet in which the canvas is shown, and the strip."""
    inside = page_of(paper).inset(UNPRINTABLE)
    along = RulerStrip(inside.left, inside.bottom, inside.width)
    if where == "below":
        return inside._replace(bottom=inside.bottom + STRIP), along
    if where == "beside":
        upward = RulerStrip(inside.left + STRIP - GAP, inside.bottom, inside.height, upright=True)
        return inside._replace(left=inside.left + STRIP), upward
    return inside, along
