"""How sheets become a book: which pages lie on which sheet, and how far folding pushes them out.

Pure functions of numbers of pages. Sheets of a saddle-stitched book are folded once and lie in each
other, so that a sheet has four pages; the j-th page from the front and the j-th from the back are
on the same side of the same sheet, and their numbers add up to one more than there are pages.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

#: Of so many pages the number must be a multiple; what is not named here takes any number.
MULTIPLES = {"saddle-stitch": 4, "perfect": 2}
ZINE = 8  # pages of a zine: one sheet, folded three times and cut once

TwoPages = tuple[int | None, int | None]  # what is on the left and on the right; None is no page


class FoldedSheet(NamedTuple):
    """One sheet: the pages on its outside and on its inside, each from left to right."""

    outside: tuple[int, int]
    inside: tuple[int, int]

    def mirrored(self) -> FoldedSheet:
        """The same in a book that is read the other way."""
        (a, b), (c, d) = self
        return FoldedSheet((b, a), (d, c))


class ZinePlace(NamedTuple):
    """Where a page of a zine lies on its sheet, and whether it stands on its head there."""

    page: int
    row: int
    column: int
    upside_down: bool


def padded(pages: int, multiple: int) -> int:
    """The next number of pages that sheets give: 22 pages, sheets of 4 → 24."""
    return -(-pages // multiple) * multiple


def folded_sheets(pages: int, direction: str = "ltr") -> tuple[FoldedSheet, ...]:
    """The sheets of a saddle-stitched book from the outermost in; `pages` is a multiple of 4."""
    sheets = (
        FoldedSheet((pages - 2 * k, 1 + 2 * k), (2 + 2 * k, pages - 1 - 2 * k))
        for k in range(pages // 4)
    )
    return tuple(sheet.mirrored() if direction == "rtl" else sheet for sheet in sheets)


def sheet_number(page: int, pages: int) -> int:
    """Which sheet of a saddle-stitched book a page is on, the outermost counted as 0."""
    return (min(page, padded(pages, 4) + 1 - page) - 1) // 2


def creep(page: int, pages: int, caliper: Fraction, factor: Fraction = Fraction(1)) -> Fraction:
    """How far a page is pushed out of a saddle-stitched book, in the unit of `caliper`.

    Each sheet lies round those inside it and pushes them out by the paper's caliper, times a
    factor: 1 in the trade's rule, half of pi for an ideally round fold, 2 for a square one.
    """
    return factor * caliper * sheet_number(page, pages)


def middle(pages: int) -> tuple[int, int]:
    """The two facing pages in the middle of a saddle-stitched book: one piece of paper."""
    half = padded(pages, 4) // 2
    return half, half + 1


def reader_spreads(pages: int, direction: str = "ltr", facing: bool = True) -> tuple[TwoPages, ...]:
    """What lies side by side as one leafs through: (–, 1), (2, 3) … from left to right.

    In right-to-left books the earlier page is on the right (CSS Paged Media 3, page progression).
    """
    if not facing:
        return tuple((page, None) for page in range(1, pages + 1))
    pairs = [(n or None, n + 1 if n < pages else None) for n in range(0, pages + 1, 2)]
    return tuple(pair[::-1] if direction == "rtl" else pair for pair in pairs)


def behind_a_turn(page: int) -> bool:
    """True if one must turn a leaf to see a page: of two facing pages the first, which is even.

    Page 1 is seen from outside; the number of the second of two facing pages is odd.
    """
    return page % 2 == 0


def nearest_behind_a_turn(page: int, pages: int) -> tuple[int, ...]:
    """The pages nearest to this one that a turn reveals: itself, or its even neighbours."""
    near = (page,) if behind_a_turn(page) else (page - 1, page + 1)
    return tuple(n for n in near if 2 <= n <= pages)


def zine_places(direction: str = "ltr") -> tuple[ZinePlace, ...]:
    """The eight pages on one side of a sheet: two rows of four, the sheet cut along its middle.

    The upper row stands on its head: 5, 4, 3, 2 from the left, and below it 6, 7, 8, 1. The cut
    goes between the rows, over the two columns in the middle.
    """
    rows: Sequence[Sequence[int]] = ((5, 4, 3, 2), (6, 7, 8, 1))
    if direction == "rtl":
        rows = [row[::-1] for row in rows]
    return tuple(
        ZinePlace(page, y, x, upside_down=y == 0)
        for y, row in enumerate(rows)
        for x, page in enumerate(row)
    )


def spine(pages: int, caliper: Fraction, cover: Fraction = Fraction(0)) -> Fraction:
    """The thickness of a book: as many papers as leaves, and the `cover` stock on both sides."""
    return Fraction(pages, 2) * caliper + 2 * cover
