"""A length divided into parts and gutters: equal parts are equal, gutters constant, ends flush."""

from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.strategies import weights
from support.worked_values import CHECKS

from guidekit.errors import InputError
from guidekit.geometry.division.divide import PartsInRow, divide
from guidekit.issue.models.share import EVEN, Share
from guidekit.units import Length, half_up

GRID = CHECKS["grid"]
totals, gutters = st.integers(500, 20_000), st.integers(0, 40)


def parts(total: int, shares: list[Share], gutter: int) -> list[tuple[int, int]]:
    """`divide` with what does not matter left out."""
    return divide(total, PartsInRow(tuple(shares), (gutter,) * (len(shares) - 1), ("tiers",)), 600)


def sizes(found: list[tuple[int, int]]) -> list[int]:
    """The pixels of each part."""
    return [b - a for a, b in found]


def gaps(found: list[tuple[int, int]]) -> set[int]:
    """The different gutters that there are."""
    return {b[0] - a[1] for a, b in pairwise(found)}


@pytest.mark.parametrize("row", GRID, ids=lambda row: f"{row['W']} {row['unit']} by {row['n']}")
def test_grid_rows(row: dict[str, Any]) -> None:
    """Equal panels lie within a pixel of (W - (n - 1) g) / n, as CSS Grid 2, 12.7.1 has it.

    The edges of the row were computed outside guidekit and rounded one by one, so that its
    gutters are not constant.
    """
    px = {key: Length.parse(f"{row[key]} {row['unit']}").px(row["dpi"]) for key in "Wg"}
    found = parts(half_up(px["W"]), [EVEN] * row["n"], half_up(px["g"]))
    assert (found[0][0], found[-1][1]) == (0, row["edges_px"][-1][1])
    assert gaps(found) == {half_up(px["g"])}
    for mine, theirs in zip(found, row["edges_px"], strict=True):
        assert all(abs(a - b) <= 1 for a, b in zip(mine, theirs, strict=True))
    panel = Fraction(row["panel"]) * px["W"] / Fraction(row["W"])
    assert all(abs(size - panel) <= 1 for size in sizes(found))


@pytest.mark.parametrize("row", [row for row in GRID if row["naive_inner"]], ids=lambda r: r["W"])
def test_not_the_centred_gutter(row: dict[str, Any]) -> None:
    """Gutters centred on the n-th part lines make outer panels wider by half a gutter; not here.

    That construction is taught for comics (common practice, no source); proof: an outer panel
    loses half a gutter, an inner one two halves.
    """
    width, gutter = Fraction(row["W"]), Fraction(row["g"])
    lines = [width * k / row["n"] for k in range(row["n"] + 1)]
    outer, inner = lines[1] - gutter / 2, lines[2] - lines[1] - gutter
    assert (outer, inner) == (Fraction(row["naive_outer"]), Fraction(row["naive_inner"]))
    assert outer - inner == gutter / 2
    px = [half_up(Length(x, row["unit"]).px(row["dpi"])) for x in (width, gutter)]
    found = sizes(parts(px[0], [EVEN] * row["n"], px[1]))
    assert found[0] - found[1] <= 1 < px[1] // 2


@pytest.mark.parametrize(
    ("total", "number", "gutter", "expected"),
    [
        (1800, 3, 38, [575, 574, 575]),
        (1000, 7, 0, [143, 143, 143, 142, 143, 143, 143]),
        (6000, 2, 75, [2963, 2962]),
        (5, 5, 0, [1, 1, 1, 1, 1]),
    ],
)
def test_spare_pixels(total: int, number: int, gutter: int, expected: list[int]) -> None:
    """What does not divide is spread out by cumulative rounding (computed by hand)."""
    assert sizes(parts(total, [EVEN] * number, gutter)) == expected


def test_at_least_a_pixel() -> None:
    """Forty parts and their gutters fit if a pixel is left for each, and not with one less."""
    assert sizes(parts(40 + 39 * 30, [EVEN] * 40, 30)) == [1] * 40
    with pytest.raises(InputError, match=r"need at least 1210 px, and there are 1209 px\."):
        parts(39 + 39 * 30, [EVEN] * 40, 30)


@pytest.mark.parametrize(
    ("shares", "expected"),
    [
        (["40 mm", "1 w", "2 w"], [945, 985, 1970]),  # 40 mm = 944.88; 4000 - 2 * 50 - 945 = 2955
        (["25 %", "1 w", "25 %"], [1000, 1900, 1000]),
        (["1500 px", "2400 px"], None),  # 1500 + 50 + 2400 is less than 4000
        (["1500 px", "2450 px"], [1500, 2450]),
    ],
)
def test_lengths_and_percentages(shares: list[str], expected: list[int] | None) -> None:
    """Lengths and parts of the whole are rounded, and weights share out what those leave."""
    made = []
    for share in shares:
        number, unit = share.split()
        if unit == "w":
            made.append(Share(weight=Fraction(number)))
        elif unit == "%":
            made.append(Share(percent=Fraction(number)))
        else:
            made.append(Share(length=Length.parse(share)))
    if expected:
        found = parts(4000, made, 50)
        assert sizes(found) == expected
        assert found[-1][1] == 4000
    else:
        with pytest.raises(InputError, match="take 3950 px of 4000 px"):
            parts(4000, made, 50)


@pytest.mark.parametrize(
    ("width", "share", "number", "gutter"),
    [
        ("270 mm", Share(length=Length(Fraction("61.5"), "mm")), 4, "8 mm"),
        ("180 mm", Share(length=Length(Fraction(60), "mm")), 3, "0 mm"),
        ("1001 px", Share(percent=Fraction(50)), 2, "0 mm"),
    ],
)
def test_full_on_paper(width: str, share: Share, number: int, gutter: str) -> None:
    """Lengths and gutters that fill the frame exactly on paper fill it in pixels at any dpi."""
    total, gap = (half_up(Length.parse(x).px(600)) for x in (width, gutter))
    found = parts(total, [share] * number, gap)
    assert (found[0][0], found[-1][1]) == (0, total)
    assert max(sizes(found)) - min(sizes(found)) <= 1


@given(totals, weights, gutters)
def test_fills_exactly(total: int, shares: list[Share], gutter: int) -> None:
    """Parts and gutters fill the whole exactly, in order, with one gutter throughout."""
    found = parts(total, shares, gutter)
    assert (found[0][0], found[-1][1]) == (0, total)
    assert gaps(found) <= {gutter}
    assert sum(sizes(found)) == total - gutter * (len(shares) - 1)


@given(totals, weights, gutters)
def test_true_to_the_weights(total: int, shares: list[Share], gutter: int) -> None:
    """No part is a pixel or more away from its exact share, so equal weights differ by 1 at most.

    No edge is more than half a pixel away: nothing adds up along the row.
    """
    found = parts(total, shares, gutter)
    rest = total - gutter * (len(shares) - 1)
    whole = sum(share.weight or 0 for share in shares)
    edge = Fraction(0)
    for (a, b), share in zip(found, shares, strict=True):
        exact = rest * (share.weight or 0) / whole
        assert abs(a - edge) <= Fraction(1, 2)
        assert abs(b - a - exact) < 1
        edge += Fraction(exact + gutter)
    for share in shares:
        alike = [s for s, other in zip(sizes(found), shares, strict=True) if other == share]
        assert max(alike) - min(alike) <= 1
