"""Whole numbers at equal steps, as the lengths are that divide without a remainder."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import gcd

from guidekit.units import half_up


@dataclass(frozen=True)
class Progression:
    """The numbers first + k × step for all whole k; `first` alone if `step` is 0."""

    first: int
    step: int

    def largest(self, most: int) -> int | None:
        """The largest of them that is at most `most`, if there is one."""
        if not self.step:
            return self.first if self.first <= most else None
        return most - (most - self.first) % self.step

    def nearest(self, target: Fraction) -> int:
        """The one that is nearest to a target, the larger of two."""
        if not self.step:
            return self.first
        return self.first + self.step * half_up((target - self.first) / self.step)

    def meet(self, other: Progression) -> Progression | None:
        """The numbers of both, if any (Chinese remainder theorem)."""
        return self.solved(1, other)

    def solved(self, count: int, other: Progression) -> Progression | None:
        """Those of them that, taken `count` times, are a number of `other`."""
        factor, rest = count * self.step, other.first - count * self.first
        shared = gcd(factor, other.step)
        if shared == 0:
            return self if rest == 0 else None
        if rest % shared:
            return None
        if not other.step:
            return Progression(self.first + self.step * (rest // factor), 0)
        turn = other.step // shared
        k = rest // shared * pow(factor // shared, -1, turn) % turn
        return Progression(self.first + self.step * k, self.step * turn)


ALL = Progression(0, 1)


def total(terms: Iterable[tuple[int, Progression]]) -> Progression:
    """All sums of terms, each a number of a progression taken so many times (Bézout)."""
    first = step = 0
    for count, numbers in terms:
        first += count * numbers.first
        step = gcd(step, count * numbers.step)
    return Progression(first, step)
