"""A row of parts of which those with equal shares are equal to the pixel."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import floor

from guidekit.errors import InputError, Problem
from guidekit.geometry.division.divide import PartsInRow
from guidekit.geometry.division.progression import ALL, Progression, total
from guidekit.issue.models.share import Share
from guidekit.units import half_up

TOLERANCE = Fraction(1, 20)  # of a share, if that is more than a pixel


@dataclass(frozen=True)
class _Group:
    """Parts of a row with equal shares: how many, and the sizes that all of them can have."""

    share: Share
    count: int
    sizes: Progression


@dataclass(frozen=True)
class EqualRow:
    """The parts of a row by their shares, those without a choice first."""

    row: PartsInRow
    groups: tuple[_Group, ...]

    @classmethod
    def of(cls, row: PartsInRow, each: Sequence[Progression], length: int, dpi: int) -> EqualRow:
        """The sizes of parts that can have `each` of these; raises `InputError` if none fit."""
        fixed = _fixed(row, length, dpi)
        groups = []
        for share, count in Counter(row.shares).items():
            own = [Progression(fixed[share], 0)] if share in fixed else []
            own += [sizes for other, sizes in zip(row.shares, each, strict=True) if other == share]
            groups.append(_Group(share, count, common(own)))
        return cls(row, tuple(sorted(groups, key=_least_choice)))

    @property
    def lengths(self) -> Progression:
        """The lengths that the row can fill, its gutters included."""
        parts = total((group.count, group.sizes) for group in self.groups)
        return Progression(parts.first + sum(self.row.gaps), parts.step)

    def filling(self, length: int) -> tuple[int, ...]:
        """The size of each part, if they fill `length`; none if one lies too far from its share.

        Each group takes the size nearest to its share of what is left, among those that leave a
        length which the groups behind it can fill.
        """
        left = length - sum(self.row.gaps)
        wanted = self._wanted(left, length)
        sizes: dict[Share, int] = {}
        for i, group in enumerate(self.groups):
            behind = total((other.count, other.sizes) for other in self.groups[i + 1 :])
            allowed = group.sizes.solved(group.count, Progression(left - behind.first, behind.step))
            target = wanted[group.share]
            all_wanted = sum(wanted[other.share] * other.count for other in self.groups[i:])
            if not allowed or left < 1 or all_wanted <= 0:
                return ()
            size = allowed.nearest(target * left / all_wanted)
            if size < 1 or abs(size - target) > max(Fraction(1), target * TOLERANCE):
                return ()
            sizes[group.share] = size
            left -= size * group.count
        return tuple(sizes[share] for share in self.row.shares)

    def _wanted(self, room: int, length: int) -> dict[Share, Fraction]:
        """The exact size of each group by its share: lengths and percentages, weights the rest."""
        fixed, rest, whole = {}, Fraction(room), Fraction(0)
        for group in self.groups:
            if group.share.weight:
                whole += group.count * group.share.weight
                continue
            percent = (group.share.percent or 0) * Fraction(length, 100)
            fixed[group.share] = percent or Fraction(group.sizes.first)
            rest -= group.count * fixed[group.share]
        weights = {g.share: rest * g.share.weight / whole for g in self.groups if g.share.weight}
        return fixed | weights


def _least_choice(group: _Group) -> tuple[bool, bool, int, int, Fraction]:
    """Groups in this order leave the last pixels to a weight that few parts have."""
    share, step = group.share, group.sizes.step
    return (
        step > 0,
        share.weight is not None,
        -group.count,
        -step,
        share.weight or share.percent or Fraction(group.sizes.first),
    )


def _fixed(row: PartsInRow, length: int, dpi: int) -> dict[Share, int]:
    """Lengths in whole pixels; those that fill the whole but for rounding do not go beyond it."""
    exact = {share: share.length.px(dpi) for share in row.shares if share.length}
    rounded = {share: half_up(px) for share, px in exact.items()}
    room = length - sum(row.gaps)
    if row.filling(length, dpi) != row and sum(rounded.get(s, 0) for s in row.shares) > room:
        return {share: floor(px) for share, px in exact.items()}
    return rounded


def common(found: Iterable[Progression]) -> Progression:
    """The lengths that are in all; raises `InputError` if none is."""
    every = ALL
    for one in found:
        both = every.meet(one)
        if not both:
            raise refusal()
        every = both
    return every


def refusal() -> InputError:
    """What is said of panels that cannot be equal."""
    came = "these panels cannot all be made exactly equal within a twentieth of the frame"
    todo = (
        'Take spare_pixels = "shared", where equal panels differ by at most one pixel, or make the '
        "shares simpler."
    )
    return InputError(Problem((), came, 'spare_pixels = "shared"', todo))
