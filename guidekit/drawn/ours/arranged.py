"""Which layers of a file that is drawn on are guidekit's, and what becomes of each.

A layer is ours by its pixels: those that were written, in that place, in that colour. Names and
groups are the second witness, for a copy that an artist made has the same pixels. What is ours is
replaced by what today's page has. Whatever was changed by hand is kept: in the group of guides it
is put aside, elsewhere it stays where it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from guidekit.drawn.ours.guide_group import (
    GUIDES,
    guide_group,
    match,
    old_guides_name,
    sorted_out,
)
from guidekit.drawn.ours.layer_tree import (
    Added,
    Aside,
    Kept,
    LayerNode,
    LayerPart,
    Repainted,
    kept,
    leaves,
    place_below,
)
from guidekit.drawn.ours.new_layers import new_layers
from guidekit.drawn.ours.wants import DrawnFile, Name, Want, wants_in
from guidekit.layers.model import Group, Layer, Stack, all_members
from guidekit.layers.prints import prints

#: What layers were once called.
ONCE = {"Paper": ("Sheet",)}


@dataclass
class Arranged:
    """All groups and layers of the file to be, the uppermost first, and what is worth telling.

    `given_up` are the keys of what was ours and is not in it any more; `changed` says that there is
    anything to write at all, `known` that anything of ours was found as it was.
    """

    parts: tuple[LayerPart, ...] = ()
    given_up: set[int] = field(default_factory=set)
    notes: list[str] = field(default_factory=list)
    changed: bool = False
    known: bool = False


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
    return _Work(drawing, old, stack, moved, given).done()


class _Work:
    """One file at work: what was written into it, what today's page has."""

    def __init__(
        self,
        drawing: DrawnFile,
        old: Sequence[Want],
        stack: Stack,
        moved: bool,
        given: frozenset[Name] | None,
    ):
        self.drawing, self.stack, self.moved, self.given = drawing, stack, moved, given
        self.old = {want.name: want for want in old if want.colour}
        self.masks = {want.name[-1]: want for want in old if not want.colour}
        self.new = {want.name: want for want in wants_in(prints(stack))}
        self.found = Arranged()
        #: By the key of a top-level or guide node.
        self.replaced: dict[int, tuple[LayerPart, ...]] = {}
        self.over: dict[int, list[LayerPart]] = {}  # what is new, by the node under it
        self.below: dict[int, list[LayerPart]] = {}  # and by the node above it
        self.taken: set[int] = set()

    def done(self) -> Arranged:
        """Work out what becomes of everything."""
        above = self._guides()
        for member in self.stack.members:
            if isinstance(member, Layer) and member.shapes:
                self._layer(member)
        for name in self.old:
            if len(name) == 1 and name not in self.new:
                self._gone(name)
        if self.given is not None:
            for new in new_layers(self.stack.members, self.drawing.members, self.given):
                self.found.notes.append(f"new, to draw on: {new.member.name}")
                self._insert(*new)
        parts = (*above, *(part for node in self.drawing.members for part in self._part(node)))
        self.found.parts = self._with_new_groups(parts)
        return self.found

    def _give_up(self, node: LayerNode) -> None:
        """What was ours is in the file no more."""
        self.found.changed = True
        self.found.given_up |= {node.key} if node.lower is None else {node.key, node.lower}

    # the group of guides

    def _guides(self) -> tuple[LayerPart, ...]:
        """Put the guides of today where the old ones are; what goes on top where there are none."""
        wants = [want for want in self.old.values() if want.name[0] == GUIDES]
        group = guide_group(self.drawing, wants)
        today = next((m for m in self.stack.members if m.name == GUIDES), None)
        new = today.members if isinstance(today, Group) else ()
        if group is None:
            return self._loose_guides(today, wants)
        ours, foreign = sorted_out(self.drawing, group, wants)
        self.found.known |= bool(ours)
        members = tuple(self._guide(member, ours) for member in new)
        rest = [node for nodes in ours.values() for node in nodes if node.key not in self.taken]
        for node in rest:
            self._give_up(node)
        if not today:
            result: tuple[LayerPart, ...] = ()
            self._give_up(group)
        else:
            result = (Kept(group, members),)
        if foreign:
            names = ", ".join(node.name for node in foreign)
            name = old_guides_name(self.drawing)
            self.found.notes.append(
                f"kept in the group {name}, hidden, for they are drawn on or not ours: {names}"
            )
            self.found.changed = True
            result += (Aside(name, tuple(map(kept, foreign))),)
        self.replaced[group.key] = result
        return ()

    def _guide(
        self, member: Layer | Group, ours: dict[Name, list[LayerNode]], at: Name = ()
    ) -> LayerPart:
        """One guide of today: the old layer with other pixels, or a new one."""
        name = (GUIDES, *at, member.name)
        nodes = [node for node in ours.get(name, ()) if node.key not in self.taken]
        node = next((n for n in nodes if (n.members is None) == isinstance(member, Layer)), None)
        if node is None:
            self.found.changed = True
            return Added(member)
        self.taken.add(node.key)
        if isinstance(member, Group):
            inner = tuple(self._guide(one, ours, (*at, member.name)) for one in member.members)
            return Kept(node, inner)
        return self._repainted(node, member, self.old.get(name), self.new[name])

    def _repainted(self, node: LayerNode, layer: Layer, old: Want | None, new: Want) -> LayerPart:
        """A layer of ours with the pixels of today; what the artist set on it stays set."""
        visible, opacity = node.visible, layer.opacity
        if old and old.opacity is not None:  # else it is not told how it was
            if node.visible != old.hidden:
                visible = layer.visible
            if abs(node.opacity - old.opacity) > 1:  # some programs store percents
                opacity = node.opacity
        same = old and old.print == new.print and old.colour == new.colour
        if same and not self.moved and abs(opacity - node.opacity) <= 1 and visible == node.visible:
            return kept(node)
        self.found.changed = True
        return Repainted(node, layer, opacity, visible)

    def _loose_guides(
        self, today: Layer | Group | None, wants: Sequence[Want]
    ) -> tuple[LayerPart, ...]:
        """Where no group is left, guides among the uppermost layers are replaced by a group."""
        for node in self.drawing.members:
            named = [want for want in wants if want.name[-1] == node.name]
            if node.members is None and match(self.drawing, node, named):
                self.replaced[node.key] = ()
                self._give_up(node)
        if today is None:
            return ()
        if wants:
            self.found.notes.append("the group of guides was not found; a new one lies on top")
        self.found.changed = True
        return (Added(today),)

    # borders, gutter cover, paper

    def _layer(self, layer: Layer) -> None:
        """One of the layers that are ours and no guides."""
        name = (layer.name,)
        old, new = self.old.get(name), self.new[name]
        node = self._of_name(layer.name, old)
        if node is None:
            if old is None and self.old:
                self._insert(layer, self.stack.members, self.drawing.members)
            elif old != new:
                self.found.notes.append(f"{layer.name} was not found, and no new one is put in")
            return
        if old and self.drawing.look(node, old):
            self.found.known |= layer is not self.stack.members[-1]  # paper may be anybody's
            self.replaced[node.key] = (self._repainted(node, layer, old, new),)
        elif not self.drawing.look(node, new):
            self.found.notes.append(f"{layer.name} was drawn on or changed, and stays as it is")

    def _of_name(self, name: str, old: Want | None) -> LayerNode | None:
        """The layer of this name, at the top of the stack before one in a group."""
        names = (name, *ONCE.get(name, ()))
        top = [node for node in self.drawing.members if node.members is None]
        every = [node for node in [*top, *leaves(self.drawing.members)] if node.name in names]
        if old:
            same = [node for node in every if self.drawing.look(node, old)]
            renamed = [
                n for n in top if not every and n.box == old.print.box and self.drawing.look(n, old)
            ]
            every = [*same, *renamed, *every]
        return next(iter(every), None)

    def _insert(
        self,
        member: Layer | Group,
        members: Sequence[Layer | Group],
        nodes: Sequence[LayerNode],
    ) -> None:
        """One of the members that is not among the nodes: beside the next that is there."""
        place, there = members.index(member), {node.name: node for node in reversed(nodes)}
        above = [there[m.name] for m in members[:place] if m.name in there]
        under = [there[m.name] for m in members[place:] if m.name in there]
        if not above and not under:
            self.found.notes.append(f"{member.name} has no place here, and is not put in")
            return
        self.found.changed = True
        beside, node = (self.below, above[-1]) if above else (self.over, under[0])
        beside.setdefault(node.key, []).append(Added(member))

    def _gone(self, name: Name) -> None:
        """A layer that the page has no more."""
        node = self._of_name(name[0], self.old[name])
        if node and self.drawing.look(node, self.old[name]):
            self.replaced[node.key] = ()
            self._give_up(node)

    # masks of panels

    def _part(self, node: LayerNode) -> tuple[LayerPart, ...]:
        """What becomes of a node and of what is in it, with what is new beside it."""
        over, below = self.over.get(node.key, ()), self.below.get(node.key, ())
        if node.key in self.replaced:
            return (*over, *self.replaced[node.key], *below)
        if node.members is None:
            return (*over, kept(node), *below)
        members = tuple(part for inner in node.members for part in self._part(inner))
        return (*over, Kept(node, members, self._mask(node)), *below)

    def _mask(self, node: LayerNode) -> tuple[Any, ...] | None:
        """The shapes of a mask that is ours and no longer what it should be."""
        old, new = self.masks.get(node.name), self.new.get((node.name,))
        if old is None:
            return None
        if not self.drawing.has_mask(node, old):
            self.found.notes.append(f"the mask of {node.name} was changed, and stays as it is")
        elif new is None:
            self.found.notes.append(f"{node.name} is no panel any more; the group stays")
        elif self.moved or new.print != old.print:
            self.found.changed = True
            return next(
                member.mask
                for member in all_members(self.stack.members)
                if isinstance(member, Group) and member.name == node.name and member.mask
            )
        return None

    def _with_new_groups(self, parts: tuple[LayerPart, ...]) -> tuple[LayerPart, ...]:
        """Groups of panels that the file has not, each below the one before it."""
        if not self.masks:
            return parts
        result = [*parts]
        names = {part.node.name for part in parts if isinstance(part, Kept)}
        before: str | None = None
        for member in self.stack.members:
            if isinstance(member, Group) and member.mask:
                if member.name not in names:
                    place = place_below(result, before)
                    if place is None or member.name in self.masks:
                        continue
                    result.insert(place, Added(member))
                    self.found.changed = True
                before = member.name
        return tuple(result)
