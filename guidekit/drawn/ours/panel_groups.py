"""Groups of panels and their masks: other shapes, and groups that the file has not."""

from __future__ import annotations

from guidekit.drawn.ours.at_work import AtWork
from guidekit.drawn.ours.layer_tree import Added, Kept, LayerNode, LayerPart, place_below
from guidekit.layers.model import Group, all_members
from guidekit.raster.shapes import Shape


def new_mask(work: AtWork, node: LayerNode) -> tuple[Shape, ...] | None:
    """The shapes of a mask that is ours and no longer what it should be."""
    old, new = work.masks.get(node.name), work.new.get((node.name,))
    if old is None:
        return None
    if not work.drawing.has_mask(node, old):
        work.found.notes.append(f"the mask of {node.name} was changed, and stays as it is")
    elif new is None:
        work.found.notes.append(f"{node.name} is no panel any more; the group stays")
    elif work.moved or new.print != old.print:
        work.found.changed = True
        return next(
            member.mask
            for member in all_members(work.stack.members)
            if isinstance(member, Group) and member.name == node.name and member.mask
        )
    return None


def with_new_groups(work: AtWork, parts: tuple[LayerPart, ...]) -> tuple[LayerPart, ...]:
    """Groups of panels that are missing in a file that does not tell what it was given."""
    if not work.masks:
        return parts
    result = [*parts]
    names = {part.node.name for part in parts if isinstance(part, Kept)}
    before: str | None = None
    for member in work.stack.members:
        if isinstance(member, Group) and member.mask:
            if member.name not in names:
                place = place_below(result, before)
                if place is None or member.name in work.masks:
                    continue
                result.insert(place, Added(member))
                work.found.changed = True
            before = member.name
    return tuple(result)
