"""There and back: ag-psd reads our file and writes it, and psd-tools reads what ag-psd wrote.

Neither shares code with the other. ag-psd writes 8 bits in colour only, so of grey files and those
of 16 bits it is tested what it reads.
"""

from collections.abc import Callable
from functools import cache
from pathlib import Path
from typing import Any, NamedTuple

import numpy as np
import pytest
from psd_tools import PSDImage
from psd_tools.api.layers import Group, Layer
from psd_tools.constants import Tag
from support.ag_psd_reader import Part, by_ag_psd, parts, pixels, rectangle
from support.books_under_test import CASES, Built, Case
from support.long import shortened
from support.picture_readers import by_bytes, mask_of, merged_by_psd_tools, values
from support.psd_walk import walk

MASKED = """
title = "Masked"
preset = "us-comic"
[format]
depth = 8
colour = "rgb"
trim = { width = "300 px", height = "400 px" }
bleed = "10 px"
safe_area = "20 px"
drawing = [
    "台詞",
    { name = "حبر", group = "線画" },
    { name = "Shades ✏️", group = "線画", opacity = "60 %", blend = "multiply" },
    { name = "Flats", opacity = "33 %" },
]
panel_groups = ["Flats"]
[[pages]]
tiers = [{ panels = 2, slant = "9 deg" }, 1]
insets = [{ over = 1, width = "30 px", height = "40 px", corner = "top-left" }]
"""
FEW = {name: CASES[name] for name in ("right page", "spread", "cover and names", "grey manuscript")}
FEW |= {
    "masks": Case(MASKED),
    "16 bit": Case(MASKED.replace("depth = 8", "depth = 16")),
    "grey 16 bit": Case(MASKED.replace("depth = 8", "depth = 16").replace('"rgb"', '"grey"')),
}
COLOUR = [name for name in FEW if "grey" not in name and "16" not in name]
#: Public specification, "Sheet color setting".
LABELS = {0: None, 5: "blue", 7: "gray"}


class Read(NamedTuple):
    """A page, what ag-psd reads of its file, and the file that ag-psd wrote, if it can."""

    page: Built
    file: Part
    copy: Path

    @property
    def parts(self) -> list[tuple[tuple[str, ...], Part]]:
        """Groups and layers, the uppermost first."""
        return [*parts(self.file)]


Reading = Callable[[str], Read]


@pytest.fixture(scope="session")
def read(canvas: Callable[[Case], Built], tmp_path_factory: pytest.TempPathFactory) -> Reading:
    """The canvas of a name as ag-psd reads it, read once."""

    @cache
    def done(name: str) -> Read:
        page, copy = canvas(FEW[name]), tmp_path_factory.mktemp("copy") / "copy.psd"
        return Read(page, by_ag_psd(page.layered, copy if name in COLOUR else None), copy)

    return done


@pytest.fixture(scope="module", params=shortened(FEW, ("spread", "masks", "grey 16 bit")))
def there(request: pytest.FixtureRequest, read: Reading) -> Read:
    """Each canvas as ag-psd reads it."""
    return read(request.param)


@pytest.fixture(scope="module", params=shortened(COLOUR, ("spread", "masks")))
def back(request: pytest.FixtureRequest, read: Reading) -> Read:
    """Each canvas that ag-psd can write."""
    return read(request.param)


def tree(
    group: PSDImage | Group, above: tuple[str, ...] = ()
) -> list[tuple[tuple[str, ...], Layer]]:
    """Groups and layers as psd-tools has them, the uppermost first."""
    found: list[tuple[tuple[str, ...], Layer]] = []
    for layer in reversed(group):
        found.append((above, layer))
        found += tree(layer, (*above, layer.name)) if isinstance(layer, Group) else []
    return found


def test_canvas(there: Read) -> None:
    """ag-psd reads the size, the bits, the colour mode and the number of channels of the header."""
    ours = walk(there.page.layered.read_bytes())
    file = there.file
    assert (file["width"], file["height"]) == there.page.size
    assert (file["bitsPerChannel"], file["colorMode"]) == (ours.depth, ours.mode)
    assert file["channels"] == ours.channels


def test_names_and_nesting(there: Read) -> None:
    """ag-psd reads the names, order and groups that psd-tools does."""
    ours = [(groups, layer.name) for groups, layer in tree(PSDImage.open(there.page.layered))]
    assert [(groups, part["name"]) for groups, part in there.parts] == ours


def test_settings(there: Read) -> None:
    """ag-psd reads visibility, opacity, blend mode, locks and labels that stand in the bytes."""
    records = [
        r
        for r in walk(there.page.layered.read_bytes()).records
        if r.blocks.get(b"lsct", b"")[:4] != b"\0\0\0\3"
    ]
    blends = {b"norm": "normal", b"mul ": "multiply", b"pass": "pass through"}
    locked = 0
    for record, (_, part) in zip(records[::-1], there.parts, strict=True):
        assert part["name"] == record.unicode_name
        assert part["hidden"] == bool(record.flags & 2)
        assert part["opacity"] == pytest.approx(record.opacity / 255)
        assert part["blendMode"] == blends[record.blend]
        lock = b"lspf" in record.blocks
        locked += lock
        wanted = dict.fromkeys(("transparency", "composite", "position"), True) if lock else None
        assert part.get("protected") == wanted
        label = int.from_bytes(record.blocks.get(b"lclr", bytes(8))[:2], "big")
        assert part.get("layerColor") == LABELS[label]
    assert locked > 3


def test_pixels(there: Read) -> None:
    """ag-psd sees each layer's rectangle and, of 8 bits, each of its pixels."""
    found = {p["name"]: p for _, p in there.parts if "imageData" in p}
    if there.file["bitsPerChannel"] == 16:  # ag-psd 31 takes each packed byte for a value
        layers = [
            x for _, x in tree(PSDImage.open(there.page.layered)) if x.width and not x.is_group()
        ]
        assert {x.name: x.bbox for x in layers} == {n: rectangle(p) for n, p in found.items()}
        return
    for layer in by_bytes(there.page.layered):
        part = found.pop(layer.name)
        assert (part["left"], part["top"]) == (layer.left, layer.top)
        assert np.array_equal(pixels(part), layer.pixels), layer.name
    assert not found


def straight_edges(panel: dict[str, Any]) -> tuple[set[float], set[float]]:
    """Where the upright and the level edges of a panel lie; slanted ones lie nowhere."""
    left, top, right, bottom = panel["box"]
    corners = panel.get("corners", [[left, top], [right, top], [right, bottom], [left, bottom]])
    sides = [*zip(corners, corners[1:] + corners[:1], strict=True)]
    return {a[0] for a, b in sides if a[0] == b[0]}, {a[1] for a, b in sides if a[1] == b[1]}


def test_guides_and_resolution(there: Read) -> None:
    """ag-psd reads rulers at trim, safe area and the straight edges of panels, and the dpi."""
    resources, boxes = there.file["imageResources"], there.page.boxes
    assert resources["resolutionInfo"]["horizontalResolution"] == boxes["dpi"]
    assert resources["resolutionInfo"]["verticalResolutionUnit"] == "PPI"
    halves = boxes.get("halves", [boxes])
    edges = [half[edge] for half in halves for edge in ("trim", "safe_area")]
    found = resources["gridAndGuidesInformation"]["guides"]
    for direction, first in (("vertical", 0), ("horizontal", 1)):
        places = [guide["location"] for guide in found if guide["direction"] == direction]
        wanted = {x for edge in edges for x in edge[first::2]}
        wanted |= {x for panel in boxes["panels"] for x in straight_edges(panel)[first]}
        assert places == sorted(wanted)


def test_merged_image_and_version(there: Read) -> None:
    """ag-psd reads that the merged image is real, and of 8 bits sees each of its pixels."""
    assert there.file["imageResources"]["versionInfo"]["hasRealMergedData"] is True
    ours = PSDImage.open(there.page.layered)
    if ours.depth == 8:
        wanted = np.asarray(merged_by_psd_tools(ours).convert("RGB"))
        assert np.array_equal(pixels(there.file)[..., :3], wanted)


def test_layers_come_back(back: Read) -> None:
    """After ag-psd wrote the file psd-tools reads the same layers with the same settings."""
    before, after = (tree(PSDImage.open(path)) for path in (back.page.layered, back.copy))
    marks, settings = 0, ("kind", "name", "visible", "opacity", "blend_mode", "bbox")
    for (groups, a), (same_groups, b) in zip(before, after, strict=True):
        assert groups == same_groups
        assert [getattr(a, s) for s in settings] == [getattr(b, s) for s in settings]
        for tag in (Tag.PROTECTED_SETTING, Tag.SHEET_COLOR_SETTING):
            values = [x.tagged_blocks.get_data(tag) for x in (a, b)]
            assert str(values[0]) == str(values[1]), (a.name, tag)
            marks += values[0] is not None
    assert marks > 10


def test_pixels_come_back(back: Read) -> None:
    """After ag-psd wrote the file the alpha of each layer and each mask is as it was."""
    before, after = (tree(PSDImage.open(path)) for path in (back.page.layered, back.copy))
    compared = 0
    for (_, a), (_, b) in zip(before, after, strict=True):
        if a.width and not a.is_group():
            assert np.array_equal(values(a, "shape"), values(b, "shape")), a.name
            assert np.array_equal(values(a, "color"), values(b, "color")), a.name
            compared += 1
        assert a.has_mask() == b.has_mask()
        if a.has_mask():
            ours, theirs = mask_of(a), mask_of(b)
            assert ours.bbox == theirs.bbox
            assert ours.background_color == theirs.background_color
            assert np.array_equal(values(a, "mask"), values(b, "mask")), a.name
    assert compared >= 5
    assert len([a for _, a in before if a.has_mask()]) == (
        4 if "Masked" in back.page.case.toml else 0
    )
