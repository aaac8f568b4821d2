"""What a page says for left pages only, or for right ones: ``on_left`` and ``on_right``."""

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


def wrong_sides(data: dict[str, Any]) -> Iterator[Problem]:
    """What cannot differ by side."""
    for own in (key for key in BY_SIDE if key in data):
        changes = data[own]
        if not isinstance(changes, dict):
            allowed = 'a table, as in { panels = "splash" }'
            yield Problem((own,), f"{shown(changes)} is not a table", allowed)
            continue
        for key in (key for key in IN_COMMON if key in changes):
            came = f"{key} holds for left and right pages alike"
            yield Problem((own, key), came, todo=f"Write it beside {own}, or leave it out.")
        if data.get("spread") or data.get("scroll"):
            what = "spread" if data.get("spread") else "scroll"
            came = f"a {what} is neither a left page nor a right one"
            yield Problem((own,), came, "single pages on both sides", f"Leave {own} out.")


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
