"""Which pages share a sheet, front and back, in their places on it.

Saddle-stitched books, and those whose issue names no binding, are sheets of four pages laid in each
other; a zine is one sheet, folded and cut; all others are leaves of two pages.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guidekit.errors import InputError, Problem
from guidekit.issue import LoadedIssue
from guidekit.issue.folding import folded_sheets, padded, zine_places


@dataclass(frozen=True)
class PageOnSheet:
    """A page in its place on one side of a sheet, by columns and rows; None is a blank page."""

    page: int | None
    column: int
    row: int = 0
    upside_down: bool = False


@dataclass(frozen=True)
class SheetSide:
    """One side of a sheet: what it is called, how many columns and rows, the pages."""

    name: str
    columns: int
    rows: int
    cells: tuple[PageOnSheet, ...]


def sheet_sides(file: LoadedIssue) -> tuple[SheetSide, ...]:
    """Every side in the order of printing, front before back; raises `InputError`."""
    kind = file.issue.bound_as
    if file.preset.scroll:
        came = "a scroll is not printed on sheets"
        raise InputError(Problem((), came, "an issue of pages", file=file.path))
    if kind == "zine":
        cells = (
            PageOnSheet(p.page, p.column, p.row, p.upside_down) for p in zine_places(file.direction)
        )
        return (SheetSide("the only side", 4, 2, tuple(cells)),)
    if kind in ("perfect", "loose") or not file.preset.facing:
        return tuple(_leaves(file.pages))
    return tuple(_folded(file.pages, file.direction))


def _folded(pages: int, direction: str) -> Iterator[SheetSide]:
    sheets = folded_sheets(padded(pages, 4), direction)
    for number, sheet in enumerate(sheets, 1):
        for name, pair in (("outside", sheet.outside), ("inside", sheet.inside)):
            cells = tuple(PageOnSheet(n if n <= pages else None, x) for x, n in enumerate(pair))
            yield SheetSide(f"sheet {number} of {len(sheets)}, {name}", 2, 1, cells)


def _leaves(pages: int) -> Iterator[SheetSide]:
    leaves = padded(pages, 2) // 2
    for leaf in range(leaves):
        for name, page in (("front", 2 * leaf + 1), ("back", 2 * leaf + 2)):
            cells = (PageOnSheet(page if page <= pages else None, 0),)
            yield SheetSide(f"leaf {leaf + 1} of {leaves}, {name}", 1, 1, cells)


def dummy_text(file: LoadedIssue) -> str:
    """The sides in words, a line each: ``sheet 1 of 6, outside: 24 | 1``."""
    return "\n".join(line for side in sheet_sides(file) for line in _lines(side))


def _lines(side: SheetSide) -> Iterator[str]:
    for row in range(side.rows):
        cells = sorted((c for c in side.cells if c.row == row), key=lambda c: c.column)
        shown = (f"{c.page or 'blank'}{' (on its head)' if c.upside_down else ''}" for c in cells)
        name = side.name if side.rows == 1 else f"{side.name}, row {row + 1}"
        yield f"{name}: {' | '.join(shown)}"
