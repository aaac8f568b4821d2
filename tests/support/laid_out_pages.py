"""Issues written to a file and laid out through the public way in, and their layers as pixels."""

import json
import re
from collections.abc import Mapping
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import numpy as np
import pytest

from guidekit import load_issue
from guidekit.errors import InputError
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import plan_issue
from guidekit.layers.model import Group, Layer, all_layers, all_members
from guidekit.plane.box import Box
from guidekit.plane.outline import Outline
from support.catalogue import stack_of
from support.planes import plane
from support.reference import reference

#: A page of 640 × 840 pixels: bleed all of it, trim (20, 20, 620, 820), frame (60, 60, 580, 780).
FORMAT = {
    "dpi": 100,
    "trim": {"width": "600 px", "height": "800 px"},
    "bleed": "20 px",
    "safe_area": "40 px",
    "gutter": {"across": "10 px", "down": "16 px"},
    "border": "4 px",
}
FRAME = [60, 60, 580, 780]


def toml(value: Any) -> str:
    """A value as TOML writes it in one line."""
    if isinstance(value, Mapping):
        pairs = (f"{_key(key)} = {toml(item)}" for key, item in value.items())
        return f"{{ {', '.join(pairs)} }}"
    if isinstance(value, (list, tuple)):
        return f"[{', '.join(map(toml, value))}]"
    return json.dumps(value, ensure_ascii=False).replace("\x7f", "\\u007f")


def _key(key: str) -> str:
    return key if re.fullmatch(r"[\w-]+", key, re.ASCII) else json.dumps(key)


def issue(*pages: dict[str, Any], format: dict[str, Any] | None = None, **keys: Any) -> str:
    """The text of an issue with these pages; `format` changes `FORMAT`, `keys` are of the issue."""
    head: dict[str, Any] = {"title": "Tests", "preset": "us-comic"} | keys
    head["format"] = FORMAT | (format or {}) if head["preset"] == "us-comic" else format or {}
    lines = [f"{_key(key)} = {toml(value)}" for key, value in head.items()]
    for page in pages:
        lines += ["[[pages]]", *(f"{_key(key)} = {toml(value)}" for key, value in page.items())]
    return "\n".join(lines) + "\n"


@lru_cache(maxsize=64)
def plans(text: str) -> tuple[PagePlan, ...]:
    """All canvases of an issue."""
    with TemporaryDirectory() as folder:
        path = Path(folder, "issue.toml")
        path.write_text(text, "utf-8")
        return plan_issue(load_issue(path))


def page(*pages: dict[str, Any], **keys: Any) -> PagePlan:
    """The last canvas of an issue of these pages; the first page of a book is a right page."""
    return plans(issue(*pages, **keys))[-1]


def refusal(*pages: dict[str, Any], **keys: Any) -> str:
    """What is said of an issue that cannot be made, without the file and the line in front.

    Each problem must name the line on which its key, or its page if it is missing there, stands.
    """
    text = issue(*pages, **keys)
    with pytest.raises(InputError) as caught:
        plans(text)
    for problem in caught.value.problems:
        assert problem.file
        assert problem.file.name == "issue.toml"
        of_page = problem.key[:1] == ("pages",)
        name = str((*problem.key, "")[2 if of_page else 0])
        named = text.splitlines()[(problem.line or 0) - 1]
        assert named == "[[pages]]" if of_page and name not in named else named.startswith(name)
    return re.sub(r"^issue\.toml, (line \d+, )?", "", str(caught.value), flags=re.MULTILINE)


def boxes(plan: PagePlan) -> list[list[int]]:
    """The boxes of all panels in reading order, numbered from 1 without a gap."""
    assert [panel.number for panel in plan.panels] == list(range(1, len(plan.panels) + 1))
    return [panel.box.as_list() for panel in plan.panels]


@lru_cache(maxsize=16)  # a test asks for one layer after the other
def _members(plan: PagePlan) -> tuple[Layer | Group, ...]:
    return stack_of(plan).members


def layers(plan: PagePlan) -> dict[str, Layer]:
    """The layers of a canvas by name."""
    return {layer.name: layer for layer in all_layers(_members(plan))}


def members(plan: PagePlan) -> dict[str, Layer | Group]:
    """The layers and groups of a canvas by name."""
    return {member.name: member for member in all_members(_members(plan))}


def pixels(plan: PagePlan, name: str) -> np.ndarray:
    """What a layer covers of its canvas, 0 to 255, one value a pixel."""
    canvas = plan.boxes.canvas
    return plane(layers(plan)[name].coverage(canvas), canvas)


def outlines(plan: PagePlan) -> list[Any]:
    """The panels of a page as polygons of shapely, in reading order, insets not cut out."""
    return [polygon(panel.outline) for panel in plan.panels]


def polygon(outline: Outline) -> Any:
    """A box or the corners of a polygon, on a grid of a thousand-millionth of a pixel."""
    shapely = reference("shapely")
    if isinstance(outline, Box):
        return shapely.box(*outline.as_list())
    found = shapely.set_precision(shapely.Polygon(outline), 2.0**-30, mode="pointwise")
    assert found.is_valid
    return found


def mirror_image(shape: Any) -> Any:
    """A shape of shapely on the other side of the middle of the page that `page` lays out."""
    return reference("shapely.affinity").affine_transform(shape, [-1, 0, 0, 1, 640, 0])
