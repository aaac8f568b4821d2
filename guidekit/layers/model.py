"""The stack of one canvas: neutral between what is drawn and how it is stored.

Whoever writes files sees only this: layers of one colour whose shapes give their coverage, in
groups, the uppermost first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any, Literal

from guidekit.plane.box import Box
from guidekit.raster.bands import Bands
from guidekit.raster.blend import Colour, Ink, common
from guidekit.raster.shapes import Shape, cover

Blend = Literal["normal", "multiply"]
Rulers = tuple[tuple[int, ...], tuple[int, ...]]  # x of the upright ones, y of the level ones
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
    blend: Blend = "normal"
    backdrop: bool = False

    def coverage(self, canvas: Box) -> Bands:
        """Where the layer covers the canvas, cropped to what is there; values 0 to 255."""
        return cover(self.shapes, canvas)


@dataclass(frozen=True)
class Group:
    """Layers and groups under one name, the uppermost first.

    A `mask` shows of the group only what its shapes cover; empty, it shows all.
    """

    name: str
    members: tuple[Layer | Group, ...]
    visible: bool = True
    locked: bool = False
    label: Label = "none"
    mask: tuple[Shape, ...] = ()


@dataclass(frozen=True)
class Stack:
    """All of one canvas. `file_name` has no suffix, `paper` the colour below all.

    `depth` is 8 or 16 bits a channel, for formats that have both; `profile` says whether files
    carry the profile of their colours. `finished` is what is left of the canvas when it is cut,
    `inked` how far ink must reach; both the whole canvas if None. `rulers` are the positions of
    vertical and of horizontal ruler guides, in pixels. `selected` is the layer to draw on first,
    one of the members. `title` names the canvas, `about` is a sentence for people, `info` what
    programs may want to read: plain data.
    """

    file_name: str
    canvas: Box
    dpi: int
    grey: bool
    depth: int
    paper: Colour
    members: tuple[Layer | Group, ...]
    finished: Box | None = None
    inked: Box | None = None
    rulers: Rulers = ((), ())
    selected: Layer | None = None
    profile: bool = True
    title: str = ""
    about: str = ""
    info: dict[str, Any] = field(default_factory=dict, hash=False)


def all_members(members: tuple[Layer | Group, ...]) -> Iterator[Layer | Group]:
    """Every group and layer, the uppermost first; a group before what is in it."""
    for member in members:
        yield member
        if isinstance(member, Group):
            yield from all_members(member.members)


def all_layers(members: tuple[Layer | Group, ...]) -> Iterator[Layer]:
    """Every layer, the uppermost first."""
    return (member for member in all_members(members) if isinstance(member, Layer))


def visible_inks(stack: Stack, backdrop: bool = True) -> list[Ink]:
    """What is seen of a stack, the lowest first, for `raster.blend.flatten`."""
    found = _inks(stack.members, stack.canvas, backdrop)
    return [*found][::-1]


def _inks(
    members: tuple[Layer | Group, ...], canvas: Box, backdrop: bool, mask: Bands | None = None
) -> Iterator[Ink]:
    for member in members:
        if not member.visible:
            continue
        if isinstance(member, Group):
            inner = mask
            if member.mask:
                own = cover(member.mask, canvas)
                inner = common(own, mask) if mask else own
            yield from _inks(member.members, canvas, backdrop, inner)
        elif member.shapes and (backdrop or not member.backdrop):
            seen = member.coverage(canvas)
            seen = common(seen, mask) if mask else seen
            yield Ink(seen, member.colour, member.opacity, member.blend == "multiply")
