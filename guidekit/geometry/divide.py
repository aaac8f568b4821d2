"""A length of whole pixels divided by shares and constant gutters; the heart of exactness."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate
from math import gcd, lcm

from guidekit.errors import InputError, Problem
from guidekit.issue.share import Share
from guidekit.units import half_up


def divide(
    total: int,
    shares: Sequence[Share],
    gaps: Sequence[int],
    dpi: int,
    exact: bool,
    place: str,
    backward: bool = False,
) -> list[tuple[int, int]]:
    """Where each part begins and ends, in pixels from 0 to `total`; `gaps` lie between them.

    Gutters are whole pixels already. Lengths and percentages are rounded half up;
    what they leave is shared out by weight in whole pixels, so that both ends are flush and parts
    of equal weight differ by at most one pixel: the k-th edge lies at half_up(rest × sum of the
    first k weights / sum of all). With `exact`, parts of equal weight are equal, and what is left
    over stays free at the end. The share of equal weights is that of CSS Grid 2, §12.7.1.

    Raises `InputError` led by `place` if the parts do not fit or do not fill the whole; with
    `backward` it counts parts from the last.
    """
    fixed = [share.fixed(total, dpi) for share in shares]
    room = total - sum(gaps)
    lengths = [length for length in fixed if length is not None]
    if len(lengths) == len(shares) and abs(sum(lengths, Fraction(0)) - room) <= len(shares):
        # lengths that fill the whole but for rounding share the pixels out as weights do
        shares, fixed = [Share(weight=length) for length in lengths], [None] * len(shares)
    rest = room - sum(half_up(x) for x in fixed if x is not None)
    weights = [share.weight or Fraction(0) for share in shares]
    whole = sum(weights)
    free = sum(1 for weight in weights if weight)
    if rest < free:
        raise _too_large(place, total, total - rest + free, shares, gaps)
    if not whole and rest:
        raise InputError(
            Problem(
                place,
                f"the parts and their gutters take {total - rest} px of {total} px",
                "parts that fill the whole",
                "Give one of them a weight, such as 1, so that it takes the rest.",
            )
        )
    if exact and whole:
        weights = [weight * _common(weights) for weight in weights]
        unit = rest // sum(weights)
        sizes = [int(weight * unit) for weight in weights]
    else:
        edges = [half_up(rest * sum_ / whole) for sum_ in accumulate(weights)] if whole else []
        sizes = [b - a for a, b in zip([0, *edges], edges, strict=False)] or [0] * len(shares)
    parts, at = [], 0
    for i, size in enumerate(sizes):
        length = fixed[i]
        width = size if length is None else half_up(length)
        if width < 1:
            number = len(shares) - i if backward else i + 1
            raise _too_thin(place, number, width, total, shares[i])
        parts.append((at, at + width))
        at += width + (gaps[i] if i < len(gaps) else 0)
    return parts


def _common(weights: Sequence[Fraction]) -> Fraction:
    """The smallest number that makes all weights whole, each divided by what they share."""
    below = lcm(*(weight.denominator for weight in weights))
    return Fraction(below, gcd(*(int(weight * below) for weight in weights)))


def _too_large(
    place: str, total: int, least: int, shares: Sequence[Share], gaps: Sequence[int]
) -> InputError:
    widths = " and ".join(map(str, sorted(set(gaps))))
    gutters = f"{len(gaps)} gutter{'' if len(gaps) == 1 else 's'} of {widths or 0} px"
    wanted = f"{len(shares)} parts with {gutters}"
    return InputError(
        Problem(
            place,
            f"{wanted} need at least {least} px, and there are {total} px",
            f"parts and gutters that fit into {total} px, each part at least 1 px",
            "Take fewer or smaller parts, or a narrower gutter.",
        )
    )


def _too_thin(place: str, number: int, width: int, total: int, share: Share) -> InputError:
    return InputError(
        Problem(
            place,
            f"part {number}, with a share of {share}, would be {width} px of {total} px",
            "at least 1 px for each panel",
            "Give it a larger share.",
        )
    )
