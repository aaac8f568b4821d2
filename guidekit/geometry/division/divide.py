"""A length of whole pixels divided by shares and constant gutters; the heart of exactness."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate

from guidekit.errors import InputError, Key, Problem
from guidekit.issue.models.share import Share
from guidekit.plane.cells import Span
from guidekit.units import decimal, half_up


@dataclass(frozen=True)
class PartsInRow:
    """Parts in a row: the share of each, the gutters between them in whole pixels.

    `key` leads to the row in the issue's file. A row that is laid out from its far end is
    `backward`: messages then count its parts from the last.
    """

    shares: tuple[Share, ...]
    gaps: tuple[int, ...]
    key: Key = ()
    backward: bool = False

    def reversed(self) -> PartsInRow:
        """The same row seen from its other end."""
        return replace(
            self, shares=self.shares[::-1], gaps=self.gaps[::-1], backward=not self.backward
        )

    def filling(self, total: int, dpi: int) -> PartsInRow:
        """The same row; lengths that fill the whole but for rounding become weights."""
        fixed = [length for share in self.shares if (length := share.fixed(total, dpi)) is not None]
        room = total - sum(self.gaps)
        if len(fixed) < len(self.shares) or abs(sum(fixed, Fraction(0)) - room) > len(fixed):
            return self
        return replace(self, shares=tuple(Share(weight=length) for length in fixed))


def divide(total: int, row: PartsInRow, dpi: int) -> list[Span]:
    """Where each part begins and ends, in pixels from 0 to `total`.

    Gutters are whole pixels already. Lengths and percentages are rounded half up; what they leave
    is shared out by weight in whole pixels, so that both ends are flush and parts of equal weight
    differ by at most one pixel: the k-th edge lies at half_up(rest × sum of the first k weights /
    sum of all). The share of equal weights is that of CSS Grid 2, §12.7.1.

    Raises `InputError` if the parts do not fit or do not fill the whole.
    """
    shares = row.filling(total, dpi).shares
    fixed = [share.fixed(total, dpi) for share in shares]
    rest = total - sum(row.gaps) - sum(half_up(x) for x in fixed if x is not None)
    weights = [share.weight or Fraction(0) for share in shares]
    whole = sum(weights)
    free = sum(1 for weight in weights if weight)
    if rest < free:
        raise _too_large(row, total, total - rest + free)
    if not whole and rest:
        came = f"the parts and their gutters take {total - rest} px of {total} px"
        todo = "Give one of them a weight, such as 1, so that it takes the rest."
        raise InputError(Problem(row.key, came, "parts that fill the whole", todo))
    edges = [half_up(rest * sum_ / whole) for sum_ in accumulate(weights)] if whole else []
    sizes = [b - a for a, b in zip([0, *edges], edges, strict=False)] or [0] * len(shares)
    widths = [
        size if length is None else half_up(length)
        for size, length in zip(sizes, fixed, strict=True)
    ]
    for i, width in enumerate(widths):
        if width < 1:
            raise _too_thin(row, i, width, total)
    return spans(widths, row.gaps)


def spans(sizes: Sequence[int], gaps: Sequence[int]) -> list[Span]:
    """Where parts of these sizes begin and end, the first at 0, with gaps between them."""
    begins = accumulate((size + gap for size, gap in zip(sizes, gaps, strict=False)), initial=0)
    return [(begin, begin + size) for begin, size in zip(begins, sizes, strict=True)]


def _too_large(row: PartsInRow, total: int, least: int) -> InputError:
    widths = " and ".join(map(str, sorted(set(row.gaps))))
    gutters = f"{len(row.gaps)} gutter{'' if len(row.gaps) == 1 else 's'} of {widths or 0} px"
    came = (
        f"{len(row.shares)} parts with {gutters} need at least {least} px, and there are {total} px"
    )
    todo = "Take fewer or smaller parts, or a narrower gutter."
    percents = [share.percent for share in row.shares if share.percent]
    if len(percents) > 1:
        came = f"the percentages add up to {decimal(sum(percents, Fraction(0)))} %: {came}"
        todo = (
            "Take smaller percentages, or weights such as 1 and 2, which leave gutters their room."
        )
    return InputError(Problem(row.key, came, f"parts and gutters of at most {total} px", todo))


def _too_thin(row: PartsInRow, index: int, width: int, total: int) -> InputError:
    number = len(row.shares) - index if row.backward else index + 1
    share = row.shares[index]
    came = f"part {number}, with a share of {share}, would be {width} px of {total} px"
    allowed = "at least 1 px for each panel"
    return InputError(Problem(row.key, came, allowed, f"Give it a larger share: {allowed}."))
