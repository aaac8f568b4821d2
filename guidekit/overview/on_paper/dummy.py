"""A dummy to print and fold: a sheet of paper for each side of a sheet."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from guidekit.geometry.page import PagePlan
from guidekit.issue import LoadedIssue
from guidekit.layers.model import Layer, Stack
from guidekit.overview.colours import PENCIL, RED
from guidekit.overview.on_paper.imposition import SheetSide, sheet_sides
from guidekit.overview.one_page import blank, pages_by_number
from guidekit.overview.words import title_of
from guidekit.plane.box import Box
from guidekit.raster.shapes import Rule, Shape
from guidekit.raster.text import Text
from guidekit.writers.pdf.colours import StackOnSheet, colour_document
from guidekit.writers.pdf.lengths import INCH, MM
from guidekit.writers.pdf.sheets import SheetSize
from guidekit.writers.pdf.tiles import A4, LETTER, UNPRINTABLE

SIZES = {"a4": A4, "letter": LETTER}
DPI = 300  # of lines and words round the pages
WORDS = 3 * MM  # room for them at the upper edge


def dummy_pdf(file: LoadedIssue, plans: Sequence[PagePlan], paper: str | None) -> bytes:
    """A sheet of paper for each side, pages at true size where they fit, else smaller.

    `paper` is a name of `SIZES`, by default the one on which pages are largest. A cover that is
    wider than the paper is smaller than the pages.
    """
    pages, sides = pages_by_number(plans), sheet_sides(file)
    empty = blank(pages[1])
    inner = next(side for side in sides if not side.of_cover)
    sizes = [SIZES[paper]] if paper else [*SIZES.values()]
    size = max(sizes, key=lambda x: _scale(_turned(x, inner, empty), inner, empty))
    most = _scale(_turned(size, inner, empty), inner, empty)
    sheets = (_sheet(side, pages, empty, size, most) for side in sides)
    return colour_document(sheets, f"{title_of(file)}, dummy")


def _room(size: SheetSize, side: SheetSide) -> SheetSize:
    """What each page has of a sheet; the pages of a zine have all of it."""
    if side.rows > 1:
        return size[0] / side.columns, size[1] / side.rows
    return (size[0] - 2 * UNPRINTABLE) / side.columns, size[1] - 2 * UNPRINTABLE - WORDS


def _scale(size: SheetSize, side: SheetSide, page: Stack) -> Fraction:
    """Points for a pixel of a page: true size, or less."""
    room, canvas = _room(size, side), page.canvas
    return min(INCH / page.dpi, room[0] / canvas.width, room[1] / canvas.height)


def _sheet(
    side: SheetSide,
    pages: dict[int | str, Stack],
    empty: Stack,
    size: SheetSize,
    largest: Fraction,
) -> tuple[SheetSize, list[StackOnSheet]]:
    stacks = [empty if one.page is None else pages.get(one.page, empty) for one in side.cells]
    size = _turned(size, side, stacks[0])
    page, room = stacks[0].canvas, _room(size, side)
    scale = min(_scale(size, side, stacks[0]), largest)
    zine = side.rows > 1
    above = Fraction(0) if zine else WORDS
    width, height = page.width * scale, page.height * scale
    cell = room if zine else (width, height)
    left = (size[0] - side.columns * cell[0]) / 2
    top = above + (size[1] - above - side.rows * cell[1]) / 2
    laid = [
        StackOnSheet(
            stack,
            left + one.column * cell[0] + (cell[0] - width) / 2,
            top + one.row * cell[1] + (cell[1] - height) / 2,
            scale,
            one.upside_down,
        )
        for one, stack in zip(side.cells, stacks, strict=True)
    ]
    grid = [left + n * cell[0] for n in range(side.columns + 1)]
    rows = [top + n * cell[1] for n in range(side.rows + 1)]
    return size, [StackOnSheet(_marks(side, size, grid, rows)), *laid]


def _turned(size: SheetSize, side: SheetSide, page: Stack) -> SheetSize:
    """Lying where pages stand beside each other or are wider than high."""
    lies = side.columns > 1 or page.canvas.width > page.canvas.height
    return size[::-1] if lies else size


def _marks(
    side: SheetSide, size: SheetSize, xs: Sequence[Fraction], ys: Sequence[Fraction]
) -> Stack:
    """Where to fold (pencil, dashed) and to cut (red), and what to do with the sheet."""
    canvas = Box(0, 0, _px(size[0]), _px(size[1]))
    folds: list[Shape] = [_upright(x, 0, size[1]) for x in xs[1:-1]]
    words = f"{side.name}: print on both sides, turned over the short edge, at 100 %"
    if side.columns == 1 and size[0] < size[1]:
        words = f"{side.name}: print on both sides, at 100 %"
    cuts: list[Shape] = []
    if side.rows > 1:
        words = ""  # pages are all over it; the command says what to do
        folds += [_level(ys[1], xs[0], xs[1]), _level(ys[1], xs[3], xs[4])]
        cuts += [_level(ys[1], xs[1], xs[3])]
    else:
        edges = [_upright(x, ys[0], ys[-1]) for x in (xs[0], xs[-1])]
        cuts += [*edges, *(_level(y, xs[0], xs[-1]) for y in ys)]
    at = _px(UNPRINTABLE)
    members = (
        Layer("Words", (Text(words, at, at, _px(2 * MM)),) if words else (), PENCIL),
        Layer("Cut", tuple(cuts), RED),
        Layer("Fold", tuple(folds), PENCIL),
    )
    return Stack("", canvas, DPI, False, 8, (255, 255, 255), members)


def _upright(x: Fraction, top: Fraction | int, bottom: Fraction) -> Rule:
    return Rule(Box(_px(x) - 1, _px(Fraction(top)), _px(x) + 1, _px(bottom)), (24, 16))


def _level(y: Fraction, left: Fraction, right: Fraction) -> Rule:
    return Rule(Box(_px(left), _px(y) - 1, _px(right), _px(y) + 1), (24, 16))


def _px(points: Fraction) -> int:
    return round(points * DPI / INCH)
