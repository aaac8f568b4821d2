"""Which layers of a file that is drawn on are guidekit's, and what becomes of each.

A layer is ours by its pixels: those that were written, in that place, in that colour. Names and
groups are the second witness, for a copy that an artist made has the same pixels. What is ours is
replaced by what today's page has. Whatever was changed by hand is kept: in the group of guides it
is put aside, elsewhere it stays where it is.
"""

from __future__ import annotations

from collections.abc import Sequence

from guidekit.drawn.ours.at_work import Arranged, AtWork
from guidekit.drawn.ours.guides import put_guides
from guidekit.drawn.ours.layer_tree import Kept, LayerNode, LayerPart, kept
from guidekit.drawn.ours.new_layers import new_layers
from guidekit.drawn.ours.panel_groups import new_mask, with_new_groups
from guidekit.drawn.ours.single_layers import insert, put_layer, take_out
from guidekit.drawn.ours.wants import DrawnFile, Name, Want
from guidekit.layers.model import Layer, Stack


def arranged(
    drawing: DrawnFile,
    old: Sequence[Want],
    stack: Stack,
    *,
    moved: bool,
    given: frozenset[Name] | None = None,
) -> Arranged:
    """What becomes of a file whose layers of ours were once as in `old`.

    `given` are the layers to draw on that it had then, if that is known. `moved` says that the
    canvas has another size: whatever is ours is then drawn anew.
    """
    work = AtWork(drawing, old, stack, moved=moved)
    above = put_guides(work)
    for member in stack.members:
        if isinstance(member, Layer) and member.shapes:
            put_layer(work, member)
    for name in work.old:
        if len(name) == 1 and name not in work.new:
            take_out(work, name)
    if given is not None:
        for new in new_layers(stack.members, drawing.members, given):
            work.found.notes.append(f"new, to draw on: {new.member.name}")
            insert(work, *new)
    parts = (*above, *(part for node in drawing.members for part in _part(work, node)))
    work.found.parts = parts if given is not None else with_new_groups(work, parts)
    return work.found


def _part(work: AtWork, node: LayerNode) -> tuple[LayerPart, ...]:
    """What becomes of a node and of what is in it, with what is new beside it."""
    over, below = work.over.get(node.key, ()), work.below.get(node.key, ())
    if node.key in work.replaced:
        return (*over, *work.replaced[node.key], *below)
    if node.members is None:
        return (*over, kept(node), *below)
    members = tuple(part for inner in node.members for part in _part(work, inner))
    return (*over, Kept(node, members, new_mask(work, node)), *below)
