"""Where each panel of a page stands in the values of its file."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from guidekit.errors import InputError, Key, Problem
from guidekit.issue.models.letter_map import read_map
from guidekit.issue.tree import Axis, Diagonals, Empty, Grid, Leaf, Node

Values = dict[str, Any]


@dataclass(frozen=True)
class Spot:
    """A panel's place: the path to a part of the page, and which panel it is there.

    `index` counts those that a number stands for, which lie along `axis`; `letter` is that of a
    map. Without both the part is the panel.
    """

    path: Key
    axis: Axis
    index: int | None = None
    letter: str = ""


def spots_of(page: Values, node: Node, path: Key = (), axis: Axis = "down") -> dict[int, Spot]:
    """The spot of each panel by its number in the layout.

    `node` is the tree of what stands at `path` of the page, in which no layout is named.
    """
    return dict(_spots(page, node, path, axis))


def _spots(page: Values, node: Node, path: Key, axis: Axis) -> Iterator[tuple[int, Spot]]:
    if isinstance(node, Leaf):
        yield node.number, Spot(path, axis)
    elif isinstance(node, Grid):
        letters = {
            block: letter for letter, block in read_map(at(page, path)["map"]).blocks.items()
        }
        for inner, block in node.blocks:
            if isinstance(inner, Leaf):
                yield inner.number, Spot(path, axis, letter=letters[block])
    elif isinstance(node, (Empty, Diagonals)):  # whose triangles are no parts of their own
        return
    elif node.list_name:
        along: Axis = "across" if node.list_name == "tiers" else "down"
        for i, part in enumerate(node.parts):
            yield from _spots(page, part, (*path, node.list_name, i), along)
    else:
        for i, part in enumerate(node.parts):
            assert isinstance(part, Leaf)  # a number stands for panels
            yield part.number, Spot(path, node.axis, index=i)


def at(page: Values, path: Key) -> Any:
    """What stands at a path."""
    found: Any = page
    for name in path:
        found = found[name]
    return found


def with_at(page: Any, path: Key, value: Any) -> Any:
    """The same values with another at a path; what was given is not changed."""
    if not path:
        return value
    copy = list(page) if isinstance(page, list) else dict(page)
    name: Any = path[0]
    copy[name] = with_at(page[name], path[1:], value)
    return copy


def put(values: Values, key: list[Any], value: Any) -> Values:
    """Values with one at a key, the tables on the way made; None takes it out, empty ones too."""
    name, *rest = key
    changed = dict(values)
    if rest:
        inner = changed.get(name, {})
        if isinstance(inner, list) and isinstance(rest[0], int) and rest[0] < len(inner):
            items = [*inner]
            own = items[rest[0]]
            if len(rest) > 1 and isinstance(own, dict):
                items[rest[0]] = put(own, rest[1:], value)
                return {**changed, name: items}
        if not isinstance(inner, dict):
            raise InputError(Problem(tuple(key), "there is no table there"))
        value = put(inner, rest, value)
        value = value or None
    if value is None:
        changed.pop(name, None)
    else:
        changed[str(name)] = value
    return changed
