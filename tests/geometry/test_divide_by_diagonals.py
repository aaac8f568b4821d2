"""Equal division as it is drawn with a ruler: crossed diagonals find the n-th part of a width.

The construction and its proof: *Mathematics Teacher*, January 1997, on dividing a segment into n
equal parts. All points are exact fractions of a unit square.
"""

from fractions import Fraction

import pytest

from guidekit.geometry.division.divide import PartsInRow, divide
from guidekit.issue.models.share import EVEN
from guidekit.units import half_up


def on_the_diagonal(end: tuple[Fraction, int]) -> Fraction:
    """Where the line from the corner (0, 0) to `end` meets the diagonal x + y = 1: its x."""
    x, y = end
    return x / (x + y)


def drawn_line(k: int, n: int) -> Fraction:
    """The part line k/n, drawn from lines of fewer parts that are there already."""
    if k == n:
        return Fraction(1)
    if 2 * k > n:  # the same figure in a mirror
        return 1 - drawn_line(n - k, n)
    return on_the_diagonal((drawn_line(k, n - k), 1))


@pytest.mark.parametrize("number", range(2, 13))
@pytest.mark.parametrize("width", [1000, 4252, 6301])
def test_without_gutters(number: int, width: int) -> None:
    """Without gutters every part ends where the lines over crossed diagonals meet."""
    drawn = [drawn_line(k, number) for k in range(1, number)]
    found = divide(width, PartsInRow((EVEN,) * number, (0,) * (number - 1)), 600)
    assert [end for _, end in found[:-1]] == [half_up(width * x) for x in drawn]


@pytest.mark.parametrize("number", range(2, 13))
@pytest.mark.parametrize(("width", "gutter"), [(4252, 94), (6378, 189), (1800, 38)])
def test_one_gutter_wider(number: int, width: int, gutter: int) -> None:
    """With gutters the figure is drawn one gutter wider, and each part gives a gutter up.

    p = (W + g) / n - g is the same as (W - (n - 1) g) / n of CSS Grid 2, 12.7.1.
    """
    drawn = [Fraction(0), *(drawn_line(k, number) for k in range(1, number + 1))]
    lines = [(width + gutter) * x for x in drawn]
    found = divide(width, PartsInRow((EVEN,) * number, (gutter,) * (number - 1)), 600)
    for (begin, end), left, right in zip(found, lines[:-1], lines[1:], strict=True):
        assert abs(begin - left) <= Fraction(1, 2)
        assert abs(end - (right - gutter)) <= Fraction(1, 2)
