"""A layered file as ag-psd reads it, a library for Node with a parser of its own."""

import json
from base64 import b64decode
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np

from support.programs import ag_psd

Part = dict[str, Any]  # the file, a group or a layer, with the keys that ag-psd gives them


def by_ag_psd(path: Path, copy: Path | None = None) -> Part:
    """What ag-psd finds in the file; if `copy` is named, it writes there what it read."""
    file: Part = json.loads(ag_psd(path, *([copy] if copy else [])))
    return file


def parts(file: Part, groups: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Part]]:
    """Every group and layer with the names of the groups round it, the uppermost first."""
    for part in reversed(file["children"]):
        yield groups, part
        if "children" in part:
            yield from parts(part, (*groups, part["name"]))


def rectangle(part: Part) -> tuple[int, int, int, int]:
    """Left, top, right, bottom of a layer or mask."""
    return part["left"], part["top"], part["right"], part["bottom"]


def pixels(part: Part, bits: int = 8) -> np.ndarray:
    """Red, green, blue, alpha of the pixels of the file, a layer or a mask."""
    image = part["imageData"]
    values = np.frombuffer(b64decode(image["data"]), np.dtype(f"<u{bits // 8}"))
    return values.reshape(image["height"], image["width"], 4)
