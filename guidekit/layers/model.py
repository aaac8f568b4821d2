"""The stack of one canvas: neutral between what is drawn and how it is stored.

Whoever writes files sees only this: layers of one colour whose shapes give their coverage, in
groups, the uppermost first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, Literal

from guidekit.geometry.box import Box
from guidekit.raster.bands import Bands
from guidekit.raster.blend import Colour
from guidekit.raster.shapes import Shape, cover

Label = Literal["none", "red", "orange", "yellow", "green", "blue", "violet", "grey"]


@dataclass(frozen=True)
class Layer:
    """One layer: its shapes in one colour (red, green, blue, 0 to 255); no shapes, nothing drawn.

    `label` is the colour that marks the layer in a list of layers; `locked` keeps it from being
    drawn on or moved. A `backdrop` lies opaque below all and is left out of transparent pictures.
    """

    name: str
    shapes: tuple[Shape, ...] = ()
    colour: Colour = (0, 0, 0)
    opacity: int = 255
    visible: bool = True
    locked: bool = False
    label: Label = "none"
    backdrop: bool = False

    def coverage(self, canvas: Box) -> Bands:
        """Where the layer covers the canvas, cropped to what is there; values 0 to 255."""
        return cover(self.shapes, canvas)


@dataclass(frozen=True)
class Group:
    """Layers and groups under one name, the uppermost first."""

    name: str
    members: tuple[Layer | Group, ...]
    visible: bool = True
    locked: bool = False
    label: Label = "none"


@dataclass(frozen=True)
class Stack:
    """All of one canvas. `stem` is the file name without suffix, `paper` the colour below all.

    `rulers` are the positions of vertical and of horizontal ruler guides, in pixels. `selected`
    names the layer to draw on first. `info` is what programs may want to read: plain data.
    """

    stem: str
    canvas: Box
    dpi: int
    grey: bool
    paper: Colour
    members: tuple[Layer | Group, ...]
    rulers: tuple[tuple[int, ...], tuple[int, ...]] = ((), ())
    selected: str = ""
    info: dict[str, Any] = field(default_factory=dict, hash=False)


def all_layers(
    members: tuple[Layer | Group, ...], shown: bool = True
) -> Iterator[tuple[Layer, bool]]:
    """Every layer from the uppermost down, with whether it and all groups round it are visible."""
    for member in members:
        visible = shown and member.visible
        if isinstance(member, Group):
            yield from all_layers(member.members, visible)
        else:
            yield member, visible
