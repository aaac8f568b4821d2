"""Layers of ours that are no guides, as borders, gutter cover and paper are, each in its place."""

from __future__ import annotations

from collections.abc import Sequence

from guidekit.drawn.ours.at_work import AtWork
from guidekit.drawn.ours.layer_tree import Added, LayerNode, leaves
from guidekit.drawn.ours.wants import Name, Want, is_as_written
from guidekit.layers.model import Group, Layer

#: What layers were once called.
ONCE = {"Paper": ("Sheet",)}


def put_layer(work: AtWork, layer: Layer) -> None:
    """One of the layers that are ours and no guides."""
    name = (layer.name,)
    old, new = work.old.get(name), work.new[name]
    node = _of_name(work, layer.name, old)
    if node is None:
        if old is None and work.old:
            insert(work, layer, work.stack.members, work.drawing.members)
        elif old != new:
            work.found.notes.append(f"{layer.name} was not found, and no new one is put in")
        return
    if old and is_as_written(work.drawing, node, old):
        anybodys = old.print.box.is_empty or layer is work.stack.members[-1]  # blank, or paper
        work.found.known |= not anybodys
        work.replaced[node.key] = (work.repainted(node, layer, old),)
    elif not is_as_written(work.drawing, node, new):
        work.found.notes.append(f"{layer.name} was drawn on or changed, and stays as it is")


def take_out(work: AtWork, name: Name) -> None:
    """A layer that the page has no more."""
    node = _of_name(work, name[0], work.old[name])
    if node and is_as_written(work.drawing, node, work.old[name]):
        work.replaced[node.key] = ()
        work.give_up(node)


def insert(
    work: AtWork,
    member: Layer | Group,
    members: Sequence[Layer | Group],
    nodes: Sequence[LayerNode],
) -> None:
    """One of the members that is not among the nodes: beside the next that is there."""
    place, there = members.index(member), {node.name: node for node in reversed(nodes)}
    above = [there[m.name] for m in members[:place] if m.name in there]
    under = [there[m.name] for m in members[place:] if m.name in there]
    if not above and not under:
        work.found.notes.append(f"{member.name} has no place here, and is not put in")
        return
    work.found.changed = True
    beside, node = (work.below, above[-1]) if above else (work.over, under[0])
    beside.setdefault(node.key, []).append(Added(member))


def _of_name(work: AtWork, name: str, old: Want | None) -> LayerNode | None:
    """The layer of this name, at the top of the stack before one in a group."""
    names = (name, *ONCE.get(name, ()))
    top = [node for node in work.drawing.members if node.members is None]
    every = [node for node in [*top, *leaves(work.drawing.members)] if node.name in names]
    if old:
        same = [node for node in every if is_as_written(work.drawing, node, old)]
        renamed = [
            n for n in top if not every and n.box == old.print.box and work.drawing.look(n, old)
        ]
        every = [*same, *renamed, *every]
    return next(iter(every), None)
