"""Words in lines are as large as any way of breaking them allows."""

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from guidekit.layers.guides.flow import flowed
from guidekit.plane.box import Box

widths = st.lists(st.integers(1, 40), min_size=1, max_size=7)


def by_trying(widths: list[int], gap: float, place: Box, most: int) -> int:
    """The largest capitals of all ways to break the words into lines."""
    best = 0
    count = len(widths)
    for breaks in range(count):
        for cuts in combinations(range(1, count), breaks):
            parts = [widths[a:b] for a, b in zip((0, *cuts), (*cuts, count), strict=True)]
            longest = max(sum(part) + gap * (len(part) - 1) for part in parts)
            tallest = place.height // (2 * len(parts))
            best = max(best, min(most, tallest, int((place.width - count) / longest)))
    return max(0, best)


@given(widths, st.sampled_from([0.5, 2.0]), st.integers(10, 900), st.integers(2, 90))
def test_as_large_as_can_be(widths: list[int], gap: float, width: int, height: int) -> None:
    """No other way of breaking the lines makes the letters larger; all words are in a line."""
    place = Box(0, 0, width, height)
    capitals, lines = flowed(widths, gap, place, 30)
    assert capitals == by_trying(widths, gap, place, 30)
    assert sum(lines) == len(widths)


def test_one_line_if_it_does() -> None:
    """Where one line is as good as two there is one."""
    assert flowed([3, 3], 2, Box(0, 0, 1000, 80), 20).lines == (2,)
    assert flowed([20, 20], 2, Box(0, 0, 500, 80), 20).lines == (1, 1)
