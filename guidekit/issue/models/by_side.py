"""What a page says for left pages only, or for right ones: ``on_left`` and ``on_right``.

Of a spread they fill one of its pages anew, and what it has on the other stays.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, Literal

from guidekit.errors import Key, Problem, shown
from guidekit.preset.sizes import spell_out
from guidekit.toml.tables import merged

Facing = Literal["left", "right"]
FACING: tuple[Facing, ...] = ("left", "right")
BY_SIDE = ("on_left", "on_right")
#: What holds for both sides, for it says which pages there are.
IN_COMMON = ("count", "spread", "halves", "scroll", *BY_SIDE)


def names_sides(data: object) -> bool:
    """True if what a page says differs by its side."""
    return isinstance(data, dict) and any(key in data for key in BY_SIDE)


def wrong_sides(data: dict[str, Any], filling: Sequence[str]) -> Iterator[Problem]:
    """What cannot differ by side; on a spread nothing can but `filling`, keys of what fills it."""
    for own in (key for key in BY_SIDE if key in data):
        changes = data[own]
        if not isinstance(changes, dict):
            allowed = 'a table, as in { panels = "splash" }'
            yield Problem((own,), f"{shown(changes)} is not a table", allowed)
            continue
        for key in (key for key in IN_COMMON if key in changes):
            came = f"{key} holds for left and right pages alike"
            yield Problem((own, key), came, todo=f"Write it beside {own}, or leave it out.")
        if data.get("scroll"):
            came = "a scroll is neither a left page nor a right one"
            yield Problem((own,), came, "single pages on both sides", f"Leave {own} out.")
        if data.get("spread"):
            for key in (key for key in changes if key not in (*filling, *IN_COMMON)):
                came = f"{key} holds for both pages of a spread"
                yield Problem((own, key), came, todo=f"Write it beside {own}, or leave it out.")


def in_tables(
    data: dict[str, Any], contents: Sequence[str], shares: Sequence[str]
) -> Iterator[tuple[str, dict[str, Any]]]:
    """The pages that a page with sides stands for, by where they are kept.

    Of a spread that is the page without its sides, as "", and what fills one of them anew.
    """
    if data.get("spread"):
        yield "", {key: value for key, value in data.items() if key not in BY_SIDE}
        yield from ((own, data[own]) for own in BY_SIDE if own in data)
    else:
        yield from ((f"on_{side}", on_side(data, side, contents, shares)) for side in FACING)


def on_side(
    data: dict[str, Any], side: Facing, contents: Sequence[str], shares: Sequence[str]
) -> dict[str, Any]:
    """All that a page says on one side.

    One of the `contents`, which say what panels there are, replaces that of both sides, and its
    `shares`.
    """
    changes = data.get(f"on_{side}", {})
    replaced = (*contents, *shares) if any(key in changes for key in contents) else ()
    common = {key: value for key, value in data.items() if key not in (*BY_SIDE, *replaced)}
    return merged(spell_out(common), spell_out(changes))


def written_in(data: dict[str, Any], own: str, key: Key) -> Key:
    """Where on a page a key stands that is that of one of its `in_tables`."""
    if data.get("spread"):
        return (own, *key) if own else key
    return written_at(data, own.removeprefix("on_"), key)


def written_at(table: object, side: str, key: Key) -> Key:
    """Where on a page a key stands that holds on this side: below ``on_left``, or for both."""
    own = f"on_{side}"
    if not isinstance(table, dict) or own not in table:
        return key
    of_side = _there(table[own], key)
    return (own, *key) if of_side and of_side >= _there(table, key) else key


def _there(table: Any, key: Key) -> int:
    """How many parts of a key lead to something."""
    for n, part in enumerate(key):
        try:
            table = table[part]
        except (KeyError, IndexError, TypeError):
            return n
    return len(key)
