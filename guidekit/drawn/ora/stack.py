"""The document of layers with other ones of ours; the artist's keep all that is said of them."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from copy import deepcopy
from dataclasses import replace
from xml.etree import ElementTree as ET

from guidekit.drawn.ora.archive import Member, stored
from guidekit.drawn.ora.drawing import OraDrawing
from guidekit.drawn.ours.layer_tree import (
    Added,
    Aside,
    CanvasPlace,
    Kept,
    LayerPart,
    Repainted,
    leaves,
)
from guidekit.layers.model import Group, Layer, Stack
from guidekit.plane.box import Box
from guidekit.writers.metadata import xml_text
from guidekit.writers.ora.layer_files import LayerFile, layer_files
from guidekit.writers.ora.stack_xml import add


class NewStack:
    """The document of the new file, and the layers that are in it."""

    def __init__(
        self, drawing: OraDrawing, stack: Stack, place: CanvasPlace, parts: Sequence[LayerPart]
    ):
        self.drawing, self.stack, self.place = drawing, stack, place
        self.added: dict[str, Member] = {}
        self.kept: set[int] = set()
        self.places: dict[str, Box] = {}  # of the new layers, by their path
        for prefix, space in drawing.spaces:
            with suppress(ValueError):  # a prefix that the library keeps for itself
                ET.register_namespace(prefix, space)
        self.image = deepcopy(drawing.image)
        self.image.set("w", str(place.width))
        self.image.set("h", str(place.height))
        root = self.image.find("stack")
        assert root is not None
        self._fill(root, parts)

    @property
    def document(self) -> bytes:
        """The bytes of ``stack.xml``."""
        found: bytes = ET.tostring(self.image, encoding="UTF-8", xml_declaration=True)
        return found

    def _fill(self, stack: ET.Element, parts: Sequence[LayerPart]) -> None:
        others = [x for x in stack if x.tag not in ("layer", "stack")]
        stack[:] = [*others]
        for part in parts:
            if isinstance(part, Kept):
                stack.append(self._kept(part))
            elif isinstance(part, Repainted):
                stack.append(self._repainted(part))
            elif isinstance(part, Added):
                add(stack, (part.member,), iter(self._files(part.member)), "")
            elif isinstance(part, Aside):
                hidden = {"visibility": "hidden", "isolation": "auto"}
                group = ET.SubElement(stack, "stack", {"name": xml_text(part.name), **hidden})
                self._fill(group, part.members)
        ET.indent(self.image, " ")

    def _kept(self, part: Kept) -> ET.Element:
        self.kept.add(part.node.key)
        element = deepcopy(self.drawing.elements[part.node.key])
        if part.members is not None:
            self._fill(element, part.members)
        elif self.place.x or self.place.y:
            box = part.node.box.shifted(self.place.x, self.place.y)
            element.set("x", str(box.left))
            element.set("y", str(box.top))
        return element

    def _repainted(self, part: Repainted) -> ET.Element:
        self.kept.add(part.node.key)
        element = deepcopy(self.drawing.elements[part.node.key])
        (file,) = self._files(part.layer)
        element.set("src", file.path)
        element.set("x", str(file.x))
        element.set("y", str(file.y))
        element.set("opacity", str(round(part.opacity / 255, 4)))
        element.set("visibility", "visible" if part.visible else "hidden")
        return element

    def _files(self, member: Layer | Group) -> list[LayerFile]:
        """The PNGs of something new, under names that are free."""
        found = []
        for file in layer_files(replace(self.stack, members=(member,))):
            number = len(self.added)
            while (path := f"data/guidekit{number:03}.png") in self._taken:
                number += 1
            found.append(file._replace(path=path))
            self.added[path] = stored(path, file.png)
        return found

    @property
    def _taken(self) -> set[str]:
        return {*self.drawing.archive, *self.added}


def dropped(drawing: OraDrawing, new: NewStack) -> set[str]:
    """The paths of layers that were ours and are in the new document no more."""
    used = {element.get("src", "") for element in new.image.iter("layer")}
    old = {drawing.elements[node.key].get("src", "") for node in leaves(drawing.members)}
    return old - used
