"""Panels are numbered in reading order: tier by tier, and within a tier the way the book reads.

Left to right in Western books, right to left in manga: common practice, no source.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.catalogue import LAYOUTS
from support.page_walk import reading
from support.random_pages import letter_maps
from support.spacing import spacing

from guidekit.errors import InputError
from guidekit.geometry.division.arrange import arrange
from guidekit.issue.models.issue import Page
from guidekit.issue.reading import Reader
from guidekit.plane.box import Box

FRAME, SPACING = Box(0, 0, 5000, 5000), spacing(20, 20, 600)
PINWHEEL = "A A B\nC X B\nC D D"


def order(letters: str, direction: str) -> str:
    """The letters of a map in the order of their numbers."""
    reader = Reader(LAYOUTS, direction)
    reader.read(Page(map=letters))
    return "".join(sorted(reader.letters, key=reader.letters.__getitem__))


@given(st.lists(st.integers(1, 5), min_size=1, max_size=6), st.sampled_from(["ltr", "rtl"]))
def test_tiers(tiers: list[int], direction: str) -> None:
    """Panels of tiers are numbered row by row, each from the side where reading begins."""
    node = Reader(LAYOUTS, direction).read(Page(tiers=tiers))
    boxes = [place.box for place in arrange(node, FRAME, SPACING).panels]
    turn = 1 if direction == "ltr" else -1
    assert boxes == sorted(boxes, key=lambda box: (box.top, turn * box.left))


@pytest.mark.parametrize(("direction", "expected"), [("ltr", [0, 1, 2, 3]), ("rtl", [3, 1, 2, 0])])
def test_columns(direction: str, expected: list[int]) -> None:
    """A column is read to its foot before the next one begins."""
    node = Reader(LAYOUTS, direction).read(Page(columns=[1, 2, 1]))
    boxes = [place.box for place in arrange(node, FRAME, SPACING).panels]
    places = sorted(boxes, key=lambda box: (box.left, box.top))
    assert [places.index(box) for box in boxes] == expected


@pytest.mark.parametrize(
    ("letters", "ltr", "rtl"),
    [
        ("A B\nC D", "ABCD", "BADC"),
        ("A A B\nA A C\nD E E", "ABCDE", "BCAED"),  # beside a tall panel, a stack is read down
        ("A B B\nA C D", "ABCD", "BDCA"),
        ("A B\nA C\nD C", "ADBC", "BCAD"),  # a straight cut down the middle: two columns
        (PINWHEEL, "ABCXD", "BAXCD"),  # no straight cut: by top edges, then as the book reads
        ("A A B P\nC X B P\nC D D P", "ABCXDP", "PBAXCD"),
    ],
)
def test_letter_maps(letters: str, ltr: str, rtl: str) -> None:
    """A map is cut straight into tiers, else columns, and so on; what has no cut goes by tops."""
    assert order(letters, "ltr") == ltr
    assert order(letters, "rtl") == rtl


@given(letter_maps(), st.sampled_from(["ltr", "rtl"]))
def test_random_letter_maps(letters: str, direction: str) -> None:
    """Any map is read as the rule says, which is told again over single places."""
    rows = [row.split() for row in letters.splitlines()]
    assert list(order(letters, direction)) == reading(rows, 1 if direction == "ltr" else -1)


def test_maps_continue_the_count() -> None:
    """Panels before and after a map in a nested page are counted through it."""
    page = Page(tiers=[2, {"map": PINWHEEL, "height": 3}, 1])
    reader = Reader(LAYOUTS, "ltr")
    node = reader.read(page)
    assert reader.letters == {"A": (3,), "B": (4,), "C": (5,), "X": (6,), "D": (7,)}
    assert [place.number for place in arrange(node, FRAME, SPACING).panels] == [*range(1, 9)]


def test_unknown_layout() -> None:
    """A layout that is not there is refused with its place, all names and the nearest."""
    with pytest.raises(InputError) as caught:
        Reader(LAYOUTS, "ltr").read(Page(tiers=[1, "six-gird"]))
    assert str(caught.value) == (
        'tiers[2].panels: there is no layout "six-gird". Did you mean "six-grid"?'
    )


def test_a_staircase() -> None:
    """A map of hundreds of panels, each cut off what is left in turn above and beside, is read."""
    size = 400
    letters = [chr(0x4E00 + i) for i in range(2 * size)]
    rows = [
        "".join(letters[2 * min(x, y) + (y > x)] + " " for x in range(size)) for y in range(size)
    ]
    assert order("\n".join(rows), "ltr") == "".join(letters[:-1])
