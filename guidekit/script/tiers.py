"""A fitting arrangement: panels in tiers, so that those with many words get room."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cache
from math import ceil, sqrt

MOST_BESIDE = 3  # panels in a tier, unless there are many
MOST_TIERS = 4  # of a page, or panels are flat strips (common practice, no source)
FEW = 12  # panels for which every way is tried


def fitting_tiers(words: Sequence[int]) -> tuple[int, ...]:
    """How many panels each tier has, from the top, for panels with so many words to letter.

    Of all ways the one in which the most crowded panel is least crowded; of several alike, the most
    even one, the first of those with fewer panels in the upper tiers.
    """
    count = len(words)
    if count > FEW:
        return _even(count)

    def crowded(tiers: tuple[int, ...]) -> tuple[Fraction, int, int, tuple[int, ...]]:
        shares = shares_of(tiers)
        most = max(
            max(said, LEAST_WORDS) / share for said, share in zip(words, shares, strict=True)
        )
        return most, max(tiers) - min(tiers), abs(len(tiers) - ceil(sqrt(count))), tiers

    return min(_ways(count), key=crowded)


LEAST_WORDS = 12  # a panel without words needs room for its picture


def shares_of(tiers: Sequence[int]) -> list[Fraction]:
    """The share of the page that each panel has, gutters not counted."""
    return [Fraction(1, len(tiers) * beside) for beside in tiers for _ in range(beside)]


@cache  # constants: what ways there are for so many panels
def _ways(count: int) -> tuple[tuple[int, ...], ...]:
    return tuple(_compositions(count, MOST_TIERS))


def _compositions(count: int, most: int) -> Iterator[tuple[int, ...]]:
    """Every list of at most so many tiers with so many panels together."""
    if not count:
        yield ()
    for first in range(1, min(count, MOST_BESIDE) + 1) if most else ():
        for others in _compositions(count - first, most - 1):
            yield (first, *others)


def _even(count: int) -> tuple[int, ...]:
    """Tiers of as many panels as each other, or one more in the last of them."""
    rows = ceil(sqrt(count))
    small, more = divmod(count, rows)
    return (small,) * (rows - more) + (small + 1,) * more
