"""One file at work: what was written into it, what today's page has, and what becomes of each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from guidekit.drawn.ours.layer_tree import LayerNode, LayerPart, Repainted, kept
from guidekit.drawn.ours.wants import DrawnFile, Want, wants_in
from guidekit.layers.model import Layer, Stack
from guidekit.layers.prints import prints


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


class AtWork:
    """What is known of a file, and in `found`, `replaced`, `over` and `below` what becomes of it.

    `old` are the layers as they were written and `masks` those of groups, by name; `new` are both
    as today's page has them. `moved` says that the canvas has another size.
    """

    def __init__(self, drawing: DrawnFile, old: Sequence[Want], stack: Stack, *, moved: bool):
        self.drawing, self.stack, self.moved = drawing, stack, moved
        self.old = {want.name: want for want in old if want.colour}
        self.masks = {want.name[-1]: want for want in old if not want.colour}
        self.new = {want.name: want for want in wants_in(prints(stack))}
        self.found = Arranged()
        #: What stands in the place of a node, by its key.
        self.replaced: dict[int, tuple[LayerPart, ...]] = {}
        self.over: dict[int, list[LayerPart]] = {}  # what is new, by the node under it
        self.below: dict[int, list[LayerPart]] = {}  # and by the node above it

    def is_of_today(self, old: Want) -> bool:
        """True if a layer as it was written is on today's page, with the same pixels and colour."""
        new = self.new.get(old.name)
        return new is not None and (old.print, old.colour) == (new.print, new.colour)

    def give_up(self, node: LayerNode) -> None:
        """What was ours is in the file no more."""
        self.found.changed = True
        self.found.given_up |= {node.key} if node.lower is None else {node.key, node.lower}

    def repainted(self, node: LayerNode, layer: Layer, old: Want | None) -> LayerPart:
        """A layer of ours with the pixels of today; what the artist set on it stays set."""
        visible, opacity = node.visible, layer.opacity
        if old and old.opacity is not None:  # else it is not told how it was
            if node.visible != old.hidden:
                visible = layer.visible
            if abs(node.opacity - old.opacity) > 1:  # some programs store percents
                opacity = node.opacity
        same = old is not None and self.is_of_today(old)
        if same and not self.moved and abs(opacity - node.opacity) <= 1 and visible == node.visible:
            return kept(node)
        self.found.changed = True
        return Repainted(node, layer, opacity, visible)
