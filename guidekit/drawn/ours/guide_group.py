"""The group of guides in a file, and which of its members are as they were written."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from guidekit.drawn.ours.layer_tree import LayerNode, groups, leaves
from guidekit.drawn.ours.wants import DrawnFile, Name, Want

GUIDES = "Guides"
OLD_GUIDES = "Guides (old)"


def guide_group(drawing: DrawnFile, wants: Sequence[Want]) -> LayerNode | None:
    """The group in which most guides are as they were; else one of their group's name."""
    names = {want.name[-1] for want in wants}
    best: tuple[int, LayerNode] | None = None
    for group in groups(drawing.members):
        known = [leaf for leaf in leaves((group,)) if leaf.name in names or group.name == GUIDES]
        if not known or any(node.members and node.name == GUIDES for node in group.members or ()):
            continue
        score = sum(match(drawing, leaf, wants) is not None for leaf in known)
        score = 2 * score + (group.name == GUIDES)
        if score and (best is None or score > best[0]):
            best = score, group
    return best[1] if best else None


def match(drawing: DrawnFile, leaf: LayerNode, wants: Iterable[Want]) -> Want | None:
    """What of ours a layer is; one of the same name before others."""
    for want in sorted(wants, key=lambda want: want.name[-1] != leaf.name):
        if drawing.look(leaf, want):
            return want
    return None


def sorted_out(
    drawing: DrawnFile, group: LayerNode, wants: Sequence[Want]
) -> tuple[dict[Name, list[LayerNode]], list[LayerNode]]:
    """The members of the group that are ours, by what they are, and those that are not."""
    ours: dict[Name, list[LayerNode]] = {}
    foreign: list[LayerNode] = []
    for node in group.members or ():
        inside, left = [*leaves((node,))], [want for want in wants if want.name not in ours]
        found = [(want.name, leaf) for leaf in inside if (want := _ours(drawing, leaf, left))]
        if found and len(found) == len(inside):
            for name, leaf in found:
                ours.setdefault(name, []).append(leaf)
            if node.members is not None:
                ours.setdefault((GUIDES, node.name), []).append(node)
        else:
            foreign.append(node)
    return ours, foreign


def _ours(drawing: DrawnFile, leaf: LayerNode, wants: Sequence[Want]) -> Want | None:
    """What of ours a layer is, or was before all of it was rubbed out."""
    if found := match(drawing, leaf, wants):
        return found
    same = (want for want in wants if want.name[-1] == leaf.name and drawing.is_blank(leaf))
    return next(same, None)


def old_guides_name(drawing: DrawnFile) -> str:
    """A free name for a group of what is put aside."""
    taken = {group.name for group in groups(drawing.members)}
    name, number = OLD_GUIDES, 2
    while name in taken:
        name = f"{OLD_GUIDES[:-1]} {number})"
        number += 1
    return name
