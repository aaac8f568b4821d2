"""The groups and layers of a file that is drawn on, and what becomes of them; of no format."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from guidekit.layers.model import Group, Layer
from guidekit.plane.box import Box
from guidekit.raster.shapes import Shape


@dataclass(frozen=True)
class CanvasPlace:
    """Where the old canvas lies on the new one, and how large that is."""

    x: int
    y: int
    width: int
    height: int


@dataclass(frozen=True)
class LayerNode:
    """A layer, or with `members` a group, the uppermost first.

    `key` is where its format finds it, `lower` the same for the lower end of a group. `box` is the
    rectangle that the file says, which may be larger than what is on the layer.
    """

    name: str
    key: int
    box: Box
    visible: bool = True
    opacity: int = 255
    members: tuple[LayerNode, ...] | None = None
    lower: int | None = None


@dataclass(frozen=True)
class Kept:
    """What stays as it is; a group may have other members, and a mask of other shapes."""

    node: LayerNode
    members: tuple[LayerPart, ...] | None = None
    mask: tuple[Shape, ...] | None = None


@dataclass(frozen=True)
class Repainted:
    """A layer of ours that stays with all that was said of it, and has other pixels."""

    node: LayerNode
    layer: Layer
    opacity: int
    visible: bool


@dataclass(frozen=True)
class Added:
    """A group or layer that was not there."""

    member: Layer | Group


@dataclass(frozen=True)
class Aside:
    """A new hidden group for what cannot stay where it was and may not be lost."""

    name: str
    members: tuple[Kept, ...]


LayerPart = Kept | Repainted | Added | Aside


def kept(node: LayerNode) -> Kept:
    """A node with all that is in it."""
    members = node.members
    return Kept(node, None if members is None else tuple(map(kept, members)))


def leaves(nodes: Iterable[LayerNode]) -> Iterator[LayerNode]:
    """Every layer, the uppermost first."""
    for node in nodes:
        if node.members is None:
            yield node
        else:
            yield from leaves(node.members)


def groups(nodes: Iterable[LayerNode]) -> Iterator[LayerNode]:
    """Every group, the outermost and uppermost first."""
    waiting = [*nodes]
    while waiting:
        yield from (node for node in waiting if node.members is not None)
        waiting = [inner for node in waiting for inner in node.members or ()]


def place_below(parts: Sequence[LayerPart], name: str | None) -> int | None:
    """The place below the first part of this name; None if there is none."""
    for place, part in enumerate(parts):
        found = part.node.name if isinstance(part, Kept) else ""
        if isinstance(part, Added):
            found = part.member.name
        if found == name:
            return place + 1
    return None
