"""``stack.xml``: order, place and look of the layers (layer stack specification)."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from xml.etree import ElementTree as ET

from guidekit.layers.model import Group, Layer, Stack, all_layers
from guidekit.writers.metadata import xml_text
from guidekit.writers.ora.layer_files import LayerFile

VERSION = "0.0.6"
#: The namespace of an attribute without which a painter enlarges the canvas to whole tiles of 64
#: pixels when it saves: the frame is the canvas, as the image's width and height have it.
FRAME = "http://mypaint.org/ns/openraster"
ET.register_namespace("mypaint", FRAME)
COMPOSITE = {"normal": "svg:src-over", "multiply": "svg:multiply"}


def stack_xml(stack: Stack, files: Sequence[LayerFile]) -> bytes:
    """The document; `files` are those of all layers in their order, the uppermost first."""
    image = ET.Element(
        "image",
        {
            "version": VERSION,
            "w": str(stack.canvas.width),
            "h": str(stack.canvas.height),
            "xres": str(stack.dpi),  # pixels per inch, whole; both or neither
            "yres": str(stack.dpi),
            f"{{{FRAME}}}frame-active": "true",
        },
    )
    root = ET.SubElement(image, "stack")  # takes no attributes
    add(root, stack.members, iter(files), _selected(stack, files))
    ET.indent(image, " ")
    document: bytes = ET.tostring(image, encoding="UTF-8", xml_declaration=True)
    return document


def _selected(stack: Stack, files: Sequence[LayerFile]) -> str:
    """The path of the layer to draw on first; empty if there is none."""
    named = zip(all_layers(stack.members), files, strict=True)
    return next((file.path for layer, file in named if layer is stack.selected), "")


def add(
    parent: ET.Element,
    members: tuple[Layer | Group, ...],
    files: Iterator[LayerFile],
    selected: str,
) -> None:
    """The members of one stack; the first child is the uppermost."""
    for member in members:
        if isinstance(member, Group):
            # "auto": with full opacity and src-over the members lie on what is below the group
            group = ET.SubElement(parent, "stack", _common(member) | {"isolation": "auto"})
            add(group, member.members, files, selected)
            continue
        file = next(files)
        attributes = {"src": file.path, "x": str(file.x), "y": str(file.y)}
        attributes |= _common(member, member.opacity, COMPOSITE[member.blend])
        if file.path == selected:
            attributes["selected"] = "true"
        ET.SubElement(parent, "layer", attributes)


def _common(
    member: Layer | Group, opacity: int = 255, composite: str = COMPOSITE["normal"]
) -> dict[str, str]:
    """What layers and groups have alike; ``edit-locked`` is of the specification's extensions."""
    attributes = {
        "name": xml_text(member.name),
        "opacity": str(round(opacity / 255, 4)),
        "visibility": "visible" if member.visible else "hidden",
        "composite-op": composite,
    }
    if member.locked:
        attributes["edit-locked"] = "true"
    return attributes
