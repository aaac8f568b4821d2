"""Gutters that lean to corners: all as far as they can, and no further."""

from hypothesis import given
from hypothesis import strategies as st

from guidekit.geometry.division.leaning import ENDS, Lean, leaning, room

WIDTH = 50  # of a part, at least


@st.composite
def rows(draw: st.DrawFn) -> tuple[list[Lean], int]:
    """Gutters of a row from 0, all leaning to corners, and where the row ends."""
    along, at, gutters = draw(st.integers(50, 900)), 0, []
    for _ in range(draw(st.integers(1, 7))):
        at += draw(st.integers(WIDTH, 4 * WIDTH))
        gap = draw(st.integers(0, 12))
        gutters.append(Lean(at + gap / 2, gap, along, 0.0, draw(st.sampled_from([1, -1]))))
        at += gap
    return gutters, at + draw(st.integers(WIDTH, 4 * WIDTH))


@given(rows())
def test_as_far_as_they_can(row: tuple[list[Lean], int]) -> None:
    """No part has less than nothing at an end, and beside each gutter one has nothing there."""
    gutters, high = row
    found = leaning(gutters, 0, high)
    parts = range(len(found) + 1)
    least = [min(room(found, part, end, 0, high) for end in ENDS) for part in parts]
    assert min(least) > -1e-9
    for i, (before, after) in enumerate(zip(gutters, found, strict=True)):
        assert min(least[i : i + 2]) < 1e-6
        assert after.lean * before.corner >= 0
        assert (after.middle, after.gap) == (before.middle, before.gap)


@given(rows())
def test_from_the_other_end(row: tuple[list[Lean], int]) -> None:
    """Seen in a mirror the same gutters lean as far the other way."""
    gutters, high = row
    turned = [Lean(high - g.middle, g.gap, g.along, 0.0, -g.corner) for g in gutters[::-1]]
    found, other = leaning(gutters, 0, high), leaning(turned, 0, high)[::-1]
    assert all(abs(a.lean + b.lean) < 1e-6 for a, b in zip(found, other, strict=True))
