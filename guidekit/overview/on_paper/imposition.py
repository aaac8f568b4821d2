"""Which pages share a sheet, front and back, in their places on it.

Saddle-stitched books, and those whose issue names no binding, are sheets of four pages laid in each
other; a zine is one sheet, folded and cut; all others are leaves of two pages. A cover goes round
them, or lies as a leaf before and behind those that are loose.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from guidekit.errors import InputError, Problem
from guidekit.issue import LoadedIssue
from guidekit.issue.folding import folded_sheets, padded, zine_places


@dataclass(frozen=True)
class PageOnSheet:
    """A page in its place on one side of a sheet, by columns and rows; None is a blank page.

    Those of the cover go by the names of their canvases.
    """

    page: int | str | None
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

    @property
    def of_cover(self) -> bool:
        """True if its pages are sides of the cover."""
        return any(isinstance(cell.page, str) for cell in self.cells)


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
    apart = kind == "loose" or not file.preset.facing
    pages = _folded(file.pages, file.direction)
    if apart or kind == "perfect":
        pages = _leaves(file.pages)
    if not file.issue.cover:
        return tuple(pages)
    if file.issue.cover.wrap:
        return (*_round_all(("cover",), ("inside cover",)), *pages)
    outside, inside = ("back cover", "front cover"), ("inside front cover", "inside back cover")
    if apart:
        first = _leaf("leaf of the front cover", outside[1], inside[0])
        last = _leaf("leaf of the back cover", inside[1], outside[0])
        return (*first, *pages, *last)
    if file.direction == "rtl":
        outside, inside = outside[::-1], inside[::-1]
    return (*_round_all(outside, inside), *pages)


def _round_all(*sides: Sequence[str]) -> Iterator[SheetSide]:
    """The sheet of the cover."""
    for name, pages in zip(("outside", "inside"), sides, strict=True):
        cells = tuple(PageOnSheet(page, x) for x, page in enumerate(pages))
        yield SheetSide(f"round all pages, {name}", len(pages), 1, cells)


def _folded(pages: int, direction: str) -> Iterator[SheetSide]:
    sheets = folded_sheets(padded(pages, 4), direction)
    for number, sheet in enumerate(sheets, 1):
        for name, pair in (("outside", sheet.outside), ("inside", sheet.inside)):
            cells = tuple(PageOnSheet(n if n <= pages else None, x) for x, n in enumerate(pair))
            yield SheetSide(f"sheet {number} of {len(sheets)}, {name}", 2, 1, cells)


def _leaves(pages: int) -> Iterator[SheetSide]:
    leaves = padded(pages, 2) // 2
    for leaf in range(leaves):
        back = 2 * leaf + 2
        yield from _leaf(f"leaf {leaf + 1} of {leaves}", back - 1, back if back <= pages else None)


def _leaf(name: str, *pages: int | str | None) -> Iterator[SheetSide]:
    for side, page in zip(("front", "back"), pages, strict=True):
        yield SheetSide(f"{name}, {side}", 1, 1, (PageOnSheet(page, 0),))


def dummy_text(file: LoadedIssue) -> str:
    """The sides in words, a line each: ``sheet 1 of 6, outside: 24 | 1``."""
    return "\n".join(line for side in sheet_sides(file) for line in _lines(side))


def _lines(side: SheetSide) -> Iterator[str]:
    for row in range(side.rows):
        cells = sorted((c for c in side.cells if c.row == row), key=lambda c: c.column)
        shown = (f"{c.page or 'blank'}{' (on its head)' if c.upside_down else ''}" for c in cells)
        name = side.name if side.rows == 1 else f"{side.name}, row {row + 1}"
        yield f"{name}: {' | '.join(shown)}"
