"""Parts side by side or one below the other, the shares that are given for them, and by whom."""

from __future__ import annotations

from typing import NamedTuple, TypeVar

from guidekit.errors import InputError, Key, Problem
from guidekit.issue.models.part import Part
from guidekit.issue.models.share import Share
from guidekit.issue.tree import Axis

Value = TypeVar("Value")


class ListedParts(NamedTuple):
    """Parts of a row with the shares that their list gives, and the names that lead to them.

    `name` is that of the list in the table at `key`; a number of panels has none.
    """

    parts: tuple[Part, ...]
    shares: tuple[Share, ...]
    key: Key
    name: str = ""

    def keys(self) -> list[Key]:
        """Leads to each part."""
        return [
            (*self.key, self.name, i) if self.name else self.key for i in range(len(self.parts))
        ]


def check_shares(part: Part, axis: Axis, key: Key) -> None:
    """Raise `InputError` for widths or heights that divide nothing here."""
    across = part.map or part.columns or (not part.tiers and axis == "across")
    down = part.map or part.tiers or (not part.columns and axis == "down")
    for given, divides, name, other in (
        (part.widths, across, "widths", "columns"),
        (part.heights, down, "heights", "tiers"),
    ):
        if given and not divides:
            came = f"{name} divide {other}, and there are none here"
            todo = f"Write {other}, or leave the {name} out."
            raise InputError(Problem((*key, name), came, other, todo))


def check_own_shares(listed: ListedParts, axis: Axis) -> None:
    """Raise `InputError` for a width of a tier, a height of a column, and a share given twice."""
    what, own, other = (
        ("column", "width", "height") if axis == "across" else ("tier", "height", "width")
    )
    problems = []
    for part, key in zip(listed.parts, listed.keys(), strict=True):
        if getattr(part, other):
            came = f"a {what} has the whole {other} of what it stands in"
            todo = f"Leave it out, or write widths or heights for what is in the {what}."
            problems.append(Problem((*key, other), came, f"{own} for a {what}", todo))
        if getattr(part, own) and listed.shares:
            came = f"{own}s beside the list give this {what} its {own} already"
            todo = "Leave one of them out."
            problems.append(Problem((*key, own), came, f"one {own}", todo))
    if problems:
        raise InputError(problems)


def matched(given: tuple[Value, ...], number: int, key: Key) -> tuple[Value, ...]:
    """The values given, of which there must be so many; raises `InputError` for others."""
    if len(given) != number:
        came = f"{_values(len(given))} where {number or 'none'} should be"
        allowed = f"{_values(number)}{', one for each' if number > 1 else ''}"
        raise InputError(Problem(key, came, allowed, "" if number else "Leave it out."))
    return given


def _values(number: int) -> str:
    return f"{number or 'no'} value{'' if number == 1 else 's'}"
