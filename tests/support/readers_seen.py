"""What each reader sees of a layered file, for tests/support/readers_matrix.py.

A reader is a function from a file to what it sees: facts of the file by name, and under "members"
one dictionary for each group and layer, the uppermost first. What a reader does not tell is left
out. A reader that is missing raises.
"""

import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
from psd_tools import PSDImage
from psd_tools.constants import Tag

from support.ag_psd_reader import by_ag_psd, parts, pixels
from support.picture_readers import Seen, by_openimageio, without_thumbnail
from support.readers_flat import Facts, told

LABELS = ("none", "red", "orange", "yellow", "green", "blue", "violet", "grey")


def psd_tools(path: Path) -> Facts:
    """The layered file by psd-tools."""
    file = PSDImage.open(path)
    resources = file.image_resources
    guides = resources.get_data(1032)
    return {
        "size": file.size,
        "resolution": resources.get_data(1005).horizontal / 65536,
        "members": [*_psd_tools_members(file, resources.get_data(1069))],
        "ruler guides": [(place // 32, "xy"[way]) for place, way in guides.data],
        "profile": resources.get_data(1039),
        "page": np.asarray(file.topil(apply_icc=False)),
    }


def _psd_tools_members(
    group: Any, selected: list[int], above: tuple[str, ...] = ()
) -> Iterator[Facts]:
    for layer in reversed(group):
        blocks = layer.tagged_blocks
        label = blocks.get_data(Tag.SHEET_COLOR_SETTING)
        mask = np.rint(layer.numpy("mask")[..., 0] * 255) if layer.has_mask() else None
        found = {
            "name": layer.name,
            "nesting": above,
            "visibility": layer.visible,
            "opacity": layer.opacity,
            "blend mode": layer.blend_mode.name.lower(),
            "locks": bool(blocks.get_data(Tag.PROTECTED_SETTING)),
            "colour labels": LABELS[int(label)] if label else "none",
            "layer to draw on": layer.layer_id in selected,
            "masks": None if mask is None else (*layer.mask.bbox[:2], mask),
        }
        if not layer.is_group() and layer.width:
            values = np.rint(layer.numpy() * 255).astype(np.uint8)
            found["pixels"] = Seen(layer.left, layer.top, values)
        yield found
        if layer.is_group():
            yield from _psd_tools_members(layer, selected, (*above, layer.name))


def ag_psd(path: Path) -> Facts:
    """The layered file by ag-psd, which Node finds through NODE_PATH."""
    file = by_ag_psd(path)
    members = []
    for above, part in parts(file):
        mask = part.get("mask")
        found = {
            "name": part["name"],
            "nesting": above,
            "visibility": not part["hidden"],
            "opacity": round(part["opacity"] * 255),
            "blend mode": part["blendMode"].replace(" ", "_"),
            "locks": "protected" in part,
            "colour labels": part.get("layerColor", "none").replace("gray", "grey"),
            "layer to draw on": part["id"] in file["imageResources"]["layerSelectionIds"],
            "masks": mask and (mask["left"], mask["top"], pixels(mask)[..., 0]),
        }
        if "imageData" in part:
            found["pixels"] = Seen(part["left"], part["top"], pixels(part))
        members.append(found)
    resources = file["imageResources"]
    guides = resources["gridAndGuidesInformation"]["guides"]
    return {
        "size": (file["width"], file["height"]),
        "resolution": resources["resolutionInfo"]["horizontalResolution"],
        "members": members,
        "ruler guides": [(g["location"], "yx"[g["direction"] == "vertical"]) for g in guides],
        "page": pixels(file)[..., :3],
    }


def openimageio(path: Path) -> Facts:
    """The layered file by OpenImageIO."""
    with TemporaryDirectory() as folder:
        page, *layers = by_openimageio(path, Path(folder))
        plain = without_thumbnail(path, Path(folder))
        info = told("oiiotool", "--info", "-v", plain)
        text = told("oiiotool", "--info", "-v", "-a", plain)
    size = info.split(" : ", 1)[1].split(",")[0].split(" x ")
    names = re.findall(r'oiio:subimagename: "(.*)"$', text, re.MULTILINE)
    seen = {layer.name: layer for layer in layers}
    resolution = [line for line in info.splitlines() if "XResolution" in line]
    return {
        "size": tuple(map(int, size)),
        "resolution": float(resolution[0].split(":")[1]),
        "profile": b"acsp" if "ICCProfile:" in info else None,
        "page": page.pixels,
        "members": [
            {"name": name} | ({"pixels": seen[name]} if name in seen else {})
            for name in names[::-1]
            if name != "</Layer group>"
        ],
    }


def pyora(path: Path) -> Facts:
    """OpenRaster by pyora."""
    file = import_module("pyora").Project.load(str(path))
    members = []
    for part in file.children_recursive:
        above: tuple[str, ...] = ()
        parent = part.parent
        while parent is not None and parent.name and parent is not file.root:
            above, parent = (parent.name, *above), parent.parent
        found = {
            "name": part.name,
            "nesting": above,
            "visibility": part.visible,
            "opacity": round(part.opacity * 255),
            "blend mode": {"svg:src-over": "normal"}.get(part.composite_op, part.composite_op[4:]),
            "locks": part.raw_attributes.get("edit-locked") == "true",
            "layer to draw on": part.raw_attributes.get("selected") == "true",
        }
        if not part.is_group:
            left, top = part.offsets
            found["pixels"] = Seen(left, top, np.asarray(part.get_image_data(raw=True)))
        members.append(found)
    order = [member["name"] for member in members]
    for name in order:  # pyora has a group behind what is in it
        inside = [i for i, member in enumerate(members) if name in member["nesting"]]
        if inside:
            group = next(m for m in members if m["name"] == name)
            members.remove(group)
            members.insert(inside[0], group)
    image = file.get_image_data(use_original=True)
    return {
        "size": file.dimensions,
        "resolution": float(file.ppi[0]),
        "members": members,
        "page": np.asarray(image.convert("RGBA")),
    }
