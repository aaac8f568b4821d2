"""Folding: imposed sheets are folded, nested and leafed through, and pages come in their order."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidekit.issue.folding import (
    FoldedSheet,
    behind_a_turn,
    creep,
    folded_sheets,
    middle,
    nearest_behind_a_turn,
    padded,
    reader_spreads,
    sheet_number,
    spine,
    zine_places,
)

DIRECTIONS = st.sampled_from(["ltr", "rtl"])
QUARTERS = st.integers(1, 60).map(lambda n: 4 * n)


@pytest.mark.parametrize(
    ("pages", "sheets"),
    [
        (8, [((8, 1), (2, 7)), ((6, 3), (4, 5))]),
        (16, [((16, 1), (2, 15)), ((14, 3), (4, 13)), ((12, 5), (6, 11)), ((10, 7), (8, 9))]),
    ],
)
def test_printer_spreads(pages: int, sheets: list[FoldedSheet]) -> None:
    """The rule of n + 1, as printers' spreads are listed by hand (common practice, no source)."""
    assert list(folded_sheets(pages)) == sheets
    assert folded_sheets(24)[-1] == ((14, 11), (12, 13))


def leafed_through(sheets: tuple[FoldedSheet, ...], direction: str) -> list[int]:
    """Fold each sheet along its middle, lay each in the one before, and turn leaf after leaf.

    A sheet lies with its inside up. Closed to the right (to the left in right-to-left books), its
    one half is the front leaf: first the outside of it is seen, then the inside.
    """
    front = 1 if direction == "ltr" else 0
    order = []
    for sheet in sheets:  # the front leaves, from the outermost in
        order += [sheet.outside[front], sheet.inside[1 - front]]
    for sheet in reversed(sheets):  # and out again
        order += [sheet.inside[front], sheet.outside[1 - front]]
    return order


@given(QUARTERS, DIRECTIONS)
def test_sheets_in_each_other_make_a_book(pages: int, direction: str) -> None:
    """Folded and laid in each other, the sheets show every page once and in order."""
    assert leafed_through(folded_sheets(pages, direction), direction) == [*range(1, pages + 1)]


@given(QUARTERS)
def test_the_middle_is_one_piece_of_paper(pages: int) -> None:
    """Of all facing pages just those in the middle lie side by side on one sheet."""
    one_piece = {sheet.inside for sheet in folded_sheets(pages)}
    facing = [pair for pair in reader_spreads(pages) if None not in pair]
    assert [pair for pair in facing if pair in one_piece] == [middle(pages)]


@given(st.integers(1, 300))
def test_sheets_of_pages(page: int) -> None:
    """A page is on the sheet on which the list of sheets has it."""
    pages = padded(page, 4)
    (k,) = [k for k, sheet in enumerate(folded_sheets(pages)) if page in sum(sheet, ())]
    assert sheet_number(page, pages) == k


def test_padding() -> None:
    """Sheets of four pages, of which a page count is filled up."""
    counts = {1: 4, 4: 4, 5: 8, 22: 24, 23: 24, 24: 24, 30: 32}
    assert {pages: padded(pages, 4) for pages in counts} == counts


@pytest.mark.parametrize(
    ("pages", "caliper", "most"),
    [
        (16, "0.1", "0.3"), (24, "0.1", "0.5"), (32, "0.1", "0.7"), (48, "0.12", "1.32"),
        (64, "0.1", "1.5"),
    ],
)  # fmt: skip
def test_creep(pages: int, caliper: str, most: str) -> None:
    """The trade's rule, (pages / 4 − 1) × caliper, in the middle; nothing on the outermost sheet.

    Common practice, no source.
    """
    found = [creep(page, pages, Fraction(caliper)) for page in range(1, pages + 1)]
    assert found[0] == found[1] == found[-1] == 0
    assert max(found) == found[pages // 2] == Fraction(most)
    assert found == found[::-1]
    assert creep(pages // 2, pages, Fraction(caliper), Fraction(2)) == 2 * Fraction(most)


def test_creep_of_paper_laid_in_paper() -> None:
    """Square folds: each sheet lies round all papers inside it, on both of its sides.

    The fold of sheet k runs round a block of 2 (s − k − 1) papers, so its halves reach as much less
    far as half of that block is thick on either side: twice the rule, as `factor` 2 says.
    """
    caliper, sheets = Fraction(1, 10), 8
    round_the_block = [caliper * 2 * (sheets - k - 1) for k in range(sheets)]
    pushed_out = [round_the_block[0] - block for block in round_the_block]
    assert pushed_out == [creep(2 * k + 1, 4 * sheets, caliper, Fraction(2)) for k in range(sheets)]


@pytest.mark.parametrize(
    ("pages", "caliper", "thick"),
    [
        (120, "0.10", Fraction(6)), (200, "0.1143", Fraction("11.43")),
        (200, "0.0045", Fraction("0.45")),
    ],
)  # fmt: skip
def test_spine(pages: int, caliper: str, thick: Fraction) -> None:
    """Leaves times caliper, in any unit; the cover's stock lies on both sides."""
    assert spine(pages, Fraction(caliper)) == thick
    assert spine(pages, Fraction(caliper), Fraction(1, 4)) == thick + Fraction(1, 2)


@given(st.integers(1, 200), DIRECTIONS)
def test_reader_spreads(pages: int, direction: str) -> None:
    """Every page once; page 1 alone on the right, or on the left where reading begins there.

    CSS Paged Media 3, page progression.
    """
    spreads = reader_spreads(pages, direction)
    first = spreads[0] if direction == "ltr" else spreads[0][::-1]
    assert first == (None, 1)
    in_order = [pair if direction == "ltr" else pair[::-1] for pair in spreads]
    assert [n for pair in in_order for n in pair if n] == [*range(1, pages + 1)]
    assert all(left is None or left % 2 == 0 for left, _ in in_order)
    assert reader_spreads(3, direction, facing=False) == ((1, None), (2, None), (3, None))


@given(st.integers(1, 50), st.integers(0, 50))
def test_page_turns(page: int, more: int) -> None:
    """A turn reveals the page that is read first of two facing ones, and those are the nearest."""
    pages = page + more
    firsts = {min(n for n in pair if n) for pair in reader_spreads(pages)[1:]}
    assert behind_a_turn(page) == (page in firsts)
    distances = {n: abs(n - page) for n in firsts}
    nearest = {n for n in firsts if distances[n] == min(distances.values())}
    assert set(nearest_behind_a_turn(page, pages)) == nearest


@pytest.mark.parametrize("direction", ["ltr", "rtl"])
def test_a_zine_is_folded_cut_and_leafed_through(direction: str) -> None:
    """Eight pages in two rows, cut along the middle of the two inner columns, are a ring of paper.

    Walked along the ring, from the front away from the back, pages come in order; where the ring
    turns from one row to the other the paper is folded over its upper edge, and the page there
    stands on its head. Facing pages, and front and back, hang together across an upright fold.
    """
    places = {(place.row, place.column): place for place in zine_places(direction)}
    assert len(places) == 8

    def joined(a: tuple[int, int], b: tuple[int, int]) -> bool:
        (row, column), (other_row, other_column) = a, b
        if row == other_row:
            return abs(column - other_column) == 1
        return column == other_column and column in (0, 3)  # the cut is between 1 and 3

    at = {place.page: where for where, place in places.items()}
    ring = [*range(1, 9), 1]
    assert all(joined(at[a], at[b]) for a, b in pairwise(ring))
    turns = [(a, b) for a, b in pairwise(ring) if at[a][0] != at[b][0]]
    assert turns == [(1, 2), (5, 6)]  # the two sides of a leaf, back to back
    assert {place.page for place in places.values() if place.upside_down} == {2, 3, 4, 5}
    for earlier, later in ((2, 3), (4, 5), (6, 7), (8, 1)):
        step = at[later][1] - at[earlier][1]
        to_the_right = step == (-1 if places[at[later]].upside_down else 1)
        assert to_the_right == (direction == "ltr")
