"""Things from several places: the first that has a name counts, and two in one place do not."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any, NoReturn, TypeVar

from guidekit.errors import InputError, Problem, shown
from guidekit.registry.registry import Entry, folded

Thing = TypeVar("Thing")


def stacked(kind: str, *places: Iterable[Entry[Thing]]) -> list[Entry[Thing]]:
    """The entries that count, the first place's first, each with the one that it shadows.

    Letter case and the spelling of a letter in Unicode tell no names apart. `kind` is what people
    call one of the things.
    """
    found: dict[str, Entry[Thing]] = {}
    for place in reversed(places):
        own = single(kind, place)
        above = {
            key: replace(entry, shadows=found[key]) if key in found else entry
            for key, entry in own.items()
        }
        found = above | {key: entry for key, entry in found.items() if key not in own}
    return [*found.values()]


def single(kind: str, entries: Iterable[Entry[Thing]]) -> dict[str, Entry[Thing]]:
    """The entries by what tells their names apart; one that there are two of only tells so."""
    found: dict[str, Entry[Thing]] = {}
    for entry in entries:
        key = folded(entry.name)
        other = found.get(key)
        found[key] = contested(kind, other, entry) if other else entry
    return found


def two_of(kind: str, one: Entry[Any], other: Entry[Any]) -> Problem:
    """What is said of a name that two have."""
    came = f"there are two {kind}s {shown(one.name)}, from {one.owner} and from {other.owner}"
    if one.owner == other.owner:
        names = f"{shown(one.name)} and {shown(other.name)}"
        came = f"there are two {kind}s of one name, {names}, both from {one.owner}"
    return Problem((), came, todo="Give one of them another name, or take one away.")


def contested(kind: str, one: Entry[Thing], other: Entry[Thing]) -> Entry[Thing]:
    """The entry of a name that two have: whoever wants the thing is told of both."""
    problem = two_of(kind, one, other)

    def refuse() -> NoReturn:
        raise InputError(problem)

    return Entry(one.name, f"{one.owner} and {other.owner}", refuse, on_request=one.on_request)
