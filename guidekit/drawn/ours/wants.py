"""Layers as they were written, and the file in which they are looked for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any, Protocol

from guidekit.drawn.ours.layer_tree import LayerNode
from guidekit.layers.palette import from_hex
from guidekit.layers.prints import Print
from guidekit.plane.box import Box

Name = tuple[str, ...]


class DrawnFile(Protocol):
    """A file that is drawn on, as far as it must be looked into."""

    members: tuple[LayerNode, ...]

    def look(self, node: LayerNode, wanted: Want) -> bool:
        """True if a layer has the pixels and the colour that are wanted."""
        ...

    def is_blank(self, node: LayerNode) -> bool:
        """True if nothing is on a layer."""
        ...

    def has_mask(self, node: LayerNode, wanted: Want) -> bool:
        """True if a group has the mask that is wanted, and nobody has switched it off."""
        ...


@dataclass(frozen=True)
class Want:
    """A layer or mask as it was written; see `guidekit.layers.prints`."""

    name: Name
    print: Print
    colour: tuple[int, int, int] | None = None
    opacity: int | None = None
    hidden: bool = False


def is_as_written(drawing: DrawnFile, node: LayerNode, wanted: Want) -> bool:
    """True if a layer of the right name is as wanted; what was blank has no colour to look for."""
    return drawing.is_blank(node) if wanted.print.box.is_empty else drawing.look(node, wanted)


def wants_in(layers: Iterable[dict[str, Any]]) -> list[Want]:
    """What an info says of layers."""
    return [_want(layer) for layer in layers]


def _want(layer: dict[str, Any]) -> Want:
    colour = layer.get("colour")
    return Want(
        tuple(layer["name"]),
        Print(Box(*layer["box"]), layer["sha256"]),
        from_hex(colour) if colour else None,
        layer.get("opacity"),
        layer.get("hidden", False),
    )
