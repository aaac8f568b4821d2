"""The edge between two parts moved: what the shares of the row are then."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from guidekit.errors import Key
from guidekit.issue.models.share import EVEN, Share
from guidekit.issue.tree import Axis
from guidekit.planner.edits.contents import LISTS, even, share_value
from guidekit.planner.edits.lengths import length_of
from guidekit.planner.edits.spots import Values, at, with_at
from guidekit.units import Length


@dataclass(frozen=True)
class MovedEdge:
    """A gap of a row, counted from 0, and how large the parts beside it shall be, in pixels.

    With `ratio` the two are weights to each other and stay so when anything else changes. `length`
    is what the size before the gap was rounded from.
    """

    gap: int
    before: int
    behind: int
    ratio: tuple[int, int] | None = None
    length: Length | None = None


def moved_shares(
    shares: Sequence[Share], sizes: Sequence[int], edge: MovedEdge, unit: str, dpi: int
) -> list[Share]:
    """The shares of a row whose parts have these `sizes` in pixels, after an edge has moved.

    All other parts stay as large as they are. A part that has a length or a percentage keeps that
    kind; of two weights the first becomes a length in `unit`, unless a ratio is asked for.
    """
    i, k = edge.gap, edge.gap + 1
    new = list(shares)
    both_weights = shares[i].weight is not None and shares[k].weight is not None
    if edge.ratio and both_weights:
        total = (shares[i].weight or Fraction(0)) + (shares[k].weight or Fraction(0))
        new[i] = Share(weight=total * edge.ratio[0] / sum(edge.ratio))
        new[k] = Share(weight=total * edge.ratio[1] / sum(edge.ratio))
        return _plain_weights(new)
    if shares[i].weight is None or both_weights:
        new[i] = _fixed(shares[i], edge.before, unit, dpi)
        written = new[i].length
        if edge.length and written and written.unit == edge.length.unit:
            new[i] = Share(length=edge.length)
    if shares[k].weight is None:
        new[k] = _fixed(shares[k], edge.behind, unit, dpi)
    others = [j for j, share in enumerate(new) if share.weight is not None and j not in (i, k)]
    weight = i if new[i].weight is not None else k if new[k].weight is not None else None
    if weight is not None and others:
        size = edge.before if weight == i else edge.behind
        part = (new[others[0]].weight or Fraction(1)) / sizes[others[0]]
        new[weight] = _decimal((part * size).limit_denominator(1000))
    elif weight is not None:
        new[weight] = EVEN
    return new


def _plain_weights(shares: list[Share]) -> list[Share]:
    """Weights as small whole numbers where that says the same."""
    weights = [share.weight for share in shares if share.weight]
    if len(weights) < len(shares) or any(weight.denominator > 100 for weight in weights):
        return [_decimal(share.weight) if share.weight else share for share in shares]
    for times in (1, 2):
        whole = [weight * times / min(weights) for weight in weights]
        if all(weight.denominator == 1 for weight in whole):
            return [Share(weight=weight) for weight in whole]
    return shares


def _decimal(weight: Fraction) -> Share:
    """A weight with four decimals."""
    return Share(weight=Fraction(round(weight * 10**4), 10**4))


def _fixed(share: Share, px: int, unit: str, dpi: int) -> Share:
    """A size as a length in the unit that the share has, else in `unit`."""
    return Share(length=length_of(px, share.length.unit if share.length else unit, dpi))


def with_shares(page: Values, path: Key, axis: Axis, name: str, shares: list[Share]) -> Values:
    """The page with other shares in the row at `path`.

    `name` is that of its list; a number of panels and a map have none. Where the parts have shares
    of their own, those are changed.
    """
    part, (_, sizes) = at(page, path), LISTS[axis]
    size = sizes[:-1]
    values = [share_value(share) for share in shares]
    if name in ("tiers", "columns") and sizes not in part:
        own = [isinstance(entry, dict) and size in entry for entry in part[name]]
        if any(own):
            entries = [
                _with_own(entry, size, value, said)
                for entry, value, said in zip(part[name], values, own, strict=True)
            ]
            return dict(with_at(page, (*path, name), entries))
    changed: Values = dict(part) if isinstance(part, dict) else {"panels": part}
    if even(shares):
        changed.pop(sizes, None)
        if not name and "panels" not in changed:
            changed = {"panels": len(shares), **changed}
        if set(changed) == {"panels"} and path:
            return dict(with_at(page, path, changed["panels"]))
    else:
        changed[sizes] = values
        if not name:
            changed.pop("panels", None)
    return dict(with_at(page, path, changed))


def _with_own(entry: Any, size: str, value: Any, said: bool) -> Any:
    if value == 1 and not said:
        return entry
    return {**(entry if isinstance(entry, dict) else {"panels": entry}), size: value}
