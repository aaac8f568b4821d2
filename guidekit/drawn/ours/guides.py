"""The guides of today in the place of the old ones."""

from __future__ import annotations

from collections.abc import Sequence

from guidekit.drawn.ours.at_work import AtWork
from guidekit.drawn.ours.guide_group import (
    GUIDES,
    guide_group,
    match,
    old_guides_name,
    sorted_out,
)
from guidekit.drawn.ours.layer_tree import Added, Aside, Kept, LayerNode, LayerPart, kept, leaves
from guidekit.drawn.ours.wants import Name, Want
from guidekit.layers.model import Group, Layer


def put_guides(work: AtWork) -> tuple[LayerPart, ...]:
    """Put the guides of today where the old ones are; what goes on top where there are none."""
    wants = [want for want in work.old.values() if want.name[0] == GUIDES]
    group = guide_group(work.drawing, wants)
    today = next((m for m in work.stack.members if m.name == GUIDES), None)
    new = today.members if isinstance(today, Group) else ()
    if group is None:
        return _loose_guides(work, today, wants)
    _tell_copies(work, group, wants)
    ours, foreign = sorted_out(work.drawing, group, wants)
    work.found.known |= bool(ours)
    members = tuple(_guide(work, member, ours) for member in new)
    for nodes in ours.values():
        for node in nodes:
            work.give_up(node)
    if not today:
        result: tuple[LayerPart, ...] = ()
        work.give_up(group)
    else:
        result = (Kept(group, members),)
    if foreign:
        names = ", ".join(node.name for node in foreign)
        name = old_guides_name(work.drawing)
        work.found.notes.append(
            f"kept in the group {name}, hidden, for they are drawn on or not ours: {names}"
        )
        work.found.changed = True
        result += (Aside(name, tuple(map(kept, foreign))),)
    work.replaced[group.key] = result
    return ()


def _tell_copies(work: AtWork, group: LayerNode, wants: Sequence[Want]) -> None:
    """Tell of guides outside of their group: they may be meant as they are, and are old by now."""
    inside = {leaf.key for leaf in leaves((group,))}
    older = [want for want in wants if not work.is_of_today(want)]
    copies = [
        leaf.name
        for leaf in leaves(work.drawing.members)
        if leaf.key not in inside
        and any(w.name[-1] == leaf.name and work.drawing.look(leaf, w) for w in older)
    ]
    if copies:
        names = ", ".join(dict.fromkeys(copies))
        work.found.notes.append(f"older guides outside of the group {group.name} stay: {names}")


def _guide(
    work: AtWork, member: Layer | Group, ours: dict[Name, list[LayerNode]], at: Name = ()
) -> LayerPart:
    """One guide of today: the old layer, taken from `ours`, with other pixels, or a new one."""
    name = (GUIDES, *at, member.name)
    nodes = ours.get(name, [])
    node = next((n for n in nodes if (n.members is None) == isinstance(member, Layer)), None)
    if node is None:
        work.found.changed = True
        return Added(member)
    nodes.remove(node)
    if isinstance(member, Group):
        inner = tuple(_guide(work, one, ours, (*at, member.name)) for one in member.members)
        return Kept(node, inner)
    return work.repainted(node, member, work.old.get(name))


def _loose_guides(
    work: AtWork, today: Layer | Group | None, wants: Sequence[Want]
) -> tuple[LayerPart, ...]:
    """Where no group is left, guides among the uppermost layers are replaced by a group."""
    for node in work.drawing.members:
        named = [want for want in wants if want.name[-1] == node.name]
        if node.members is None and match(work.drawing, node, named):
            work.replaced[node.key] = ()
            work.give_up(node)
    if today is None:
        return ()
    if wants:
        work.found.notes.append("the group of guides was not found; a new one lies on top")
    work.found.changed = True
    return (Added(today),)
