"""Layers to draw on that a page has gained since its file was written."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, NamedTuple

from guidekit.drawn.ours.guide_group import GUIDES
from guidekit.drawn.ours.layer_tree import LayerNode, groups, leaves
from guidekit.drawn.ours.wants import Name, wants_in
from guidekit.layers.model import Group, Layer
from guidekit.layers.prints import TO_DRAW_ON, blank_names

Members = Sequence[Layer | Group]


class NewLayer(NamedTuple):
    """What is to be put in, what stands beside it on today's page, and what in the file."""

    member: Layer | Group
    members: Members
    nodes: Sequence[LayerNode]


def told_blank(info: dict[str, Any] | None) -> frozenset[Name] | None:
    """The layers to draw on that a file was given, by its info; None where that is not told.

    Older builds told nothing of those of a panel; its group is then named in their place.
    """
    told = info.get(TO_DRAW_ON) if info else None
    if not info or not isinstance(told, list) or not all(isinstance(name, list) for name in told):
        return None
    found = frozenset(tuple(map(str, name)) for name in told)
    masked = {want.name for want in wants_in(info.get("layers", ())) if not want.colour}
    return found | (masked - {name[:1] for name in found})


def new_layers(
    members: Members, nodes: Sequence[LayerNode], given: frozenset[Name]
) -> Iterator[NewLayer]:
    """Those that were not `given` to the file: what an artist took out since stays out.

    None has the name of anything that is there.
    """
    there = frozenset(node.name for node in (*leaves(nodes), *groups(nodes)))
    yield from _new([m for m in members if m.name != GUIDES], members, nodes, given, there, ())


def _new(
    looked_at: Members,
    members: Members,
    nodes: Sequence[LayerNode],
    given: frozenset[Name],
    there: frozenset[str],
    at: Name,
) -> Iterator[NewLayer]:
    for member in looked_at:
        if (*at, member.name) in given:
            continue
        blank = {*blank_names((member,))}
        node = next((n for n in nodes if n.name == member.name and n.members), None)
        if isinstance(member, Group) and blank and node and node.members:
            inside, name = member.members, (*at, member.name)
            yield from _new(inside, inside, node.members, given, there, name)
        elif (
            blank
            and given.isdisjoint((*at, *name) for name in blank)
            and there.isdisjoint(part for name in blank for part in name)
        ):
            yield NewLayer(member, members, nodes)
