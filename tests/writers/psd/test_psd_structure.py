"""The layered file as a structure: its header, its stack of layers and groups, every length."""

from pathlib import Path

import numpy as np
import pytest
from psd_tools import PSDImage
from psd_tools.api.layers import Group
from support.books_under_test import CASES, Built, Case, built
from support.composition import grey
from support.independent_raster import rectangular_layers
from support.picture_readers import imagemagick_opens
from support.programs import output
from support.psd_walk import Record, Walked, walk

VISIBLE, HIDDEN = 0x08, 0x0A  # bit 0x02 set means hidden, as readers have it
HIDDEN_AT_FIRST = {"Lettering lines", "Construction lines", "Centre lines"}
OPACITY = {"Panel numbers": 153, "Lettering lines": 191, "Gutters": 77}
#: Public specification, "Sheet color setting": 5 is blue, 7 grey.
LABELS = {"Panel borders": 7}
BLUE_LABEL = 5
#: Public specification, "Section divider setting".
OPEN_FOLDER, END_OF_FOLDER = 1, 3


def guides(page: Built) -> list[str]:
    """The names of the guides that this canvas must have, the uppermost first."""
    drawn = [name for name in rectangular_layers(page) if name not in outside_the_group(page)]
    divided = ["Construction lines"] if len(page.boxes["panels"]) > 1 else []
    return ["Page label", "Panel numbers", drawn[0], *divided, *drawn[1:]]


def outside_the_group(page: Built) -> list[str]:
    """The names of all that lies below the guides, the uppermost first."""
    cover = ["Gutter cover"] if page.case.cover else []
    above = [name for name in page.case.drawing if name == "Lettering"]  # in all shipped presets
    below = [name for name in page.case.drawing if name not in above]
    return [*above, "Panel borders", *cover, *below, "Paper"]


def kind(record: Record) -> int:
    """What a record is in the tree of groups; 0 for a layer."""
    return int.from_bytes(record.blocks.get(b"lsct", b"")[:4], "big")


def layers(walked: Walked) -> dict[str, Record]:
    """The records of layers by name, the uppermost first, without groups."""
    return {r.unicode_name: r for r in reversed(walked.records) if not kind(r)}


def test_every_length_adds_up(walked: Walked, page: Built) -> None:
    """The file parses to its last byte, and its header has the size, mode and depth of the page."""
    assert (walked.width, walked.height) == page.size
    assert walked.depth == 8
    assert walked.channels == (1 if page.case.grey else 3)
    assert walked.mode == (1 if page.case.grey else 3)  # "File header section": grey, RGB
    assert walked.version == (2 if page.case.suffix == "psb" else 1)


def test_names_and_order(walked: Walked, page: Built) -> None:
    """All names of guides, borders, drawing layers and sheet stand in the file, top to bottom."""
    assert [*layers(walked)] == guides(page) + outside_the_group(page)


def test_one_group_of_guides(walked: Walked, page: Built) -> None:
    """One open group called Guides lies on top and holds the guides and nothing else."""
    above, below = len(guides(page)), len(outside_the_group(page))
    kinds = [kind(record) for record in walked.records]
    assert kinds == [0] * below + [END_OF_FOLDER] + [0] * above + [OPEN_FOLDER]
    group = walked.records[-1]
    assert (group.unicode_name, group.blend) == ("Guides", b"pass")
    assert group.blocks[b"lsct"][4:] == b"8BIMpass"


def test_tree_by_psd_tools(page: Built) -> None:
    """psd-tools reads the same tree: the group with its guides on top, the sheet at the bottom."""
    top, *rest = reversed(PSDImage.open(page.layered))
    assert isinstance(top, Group)
    assert top.name == "Guides"
    assert [layer.name for layer in reversed(top)] == guides(page)
    assert [layer.name for layer in rest] == outside_the_group(page)


def test_rectangles(walked: Walked, page: Built) -> None:
    """A layer's rectangle holds what is drawn and not a row or column more."""
    for name, drawn in rectangular_layers(page).items():
        record = layers(walked)[name]
        box = (record.left, record.top, record.right, record.bottom)
        rows, columns = (np.flatnonzero(np.any(drawn.cover, axis=axis)) for axis in (1, 0))
        if len(rows):
            assert box == (columns[0], rows[0], columns[-1] + 1, rows[-1] + 1), name
        else:
            assert box == (0, 0, 0, 0), name


def test_drawing_layers_are_empty(walked: Walked, page: Built) -> None:
    """A drawing layer has the rectangle 0, 0, 0, 0 and channels of two bytes each."""
    for name in page.case.drawing:
        record = layers(walked)[name]
        assert (record.left, record.top, record.right, record.bottom) == (0, 0, 0, 0)
        assert record.channels == dict.fromkeys((-1, 0) if page.case.grey else (-1, 0, 1, 2), 2)
        assert (record.flags, record.opacity, record.blend) == (VISIBLE, 255, b"norm")
        assert b"lspf" not in record.blocks
        assert b"lclr" not in record.blocks


def test_visibility_and_opacity(walked: Walked) -> None:
    """By the flag byte, lettering, construction and centre lines are hidden, all else visible."""
    for name, record in layers(walked).items():
        assert record.flags == (HIDDEN if name in HIDDEN_AT_FIRST else VISIBLE), name
        assert record.opacity == OPACITY.get(name, 255), name
        assert record.clipping == 0
    assert {record.flags for record in walked.records if kind(record)} == {VISIBLE}


def test_visibility_by_psd_tools(page: Built) -> None:
    """psd-tools takes the flags the same way."""
    layered = PSDImage.open(page.layered)
    hidden = {layer.name for layer in layered.descendants() if not layer.visible}
    assert hidden == HIDDEN_AT_FIRST.intersection(guides(page))


def test_locks_and_labels(walked: Walked, page: Built) -> None:
    """Guides, their group and the sheet are locked; guides are marked blue, borders grey."""
    group = walked.records[-1]
    for name, record in {**layers(walked), "Guides": group}.items():
        guide = record is group or name in guides(page)
        lock = record.blocks.get(b"lspf", bytes(4))
        label = record.blocks.get(b"lclr", bytes(8))
        assert int.from_bytes(lock, "big") == (7 if guide or name == "Paper" else 0), name
        assert int.from_bytes(label[:2], "big") == (BLUE_LABEL if guide else LABELS.get(name, 0))
        assert label[2:] == bytes(6)


def test_one_colour_a_layer(walked: Walked, page: Built) -> None:
    """Each colour channel of a layer holds one value; grey files hold the colour's luminance."""
    for name, drawn in rectangular_layers(page).items():
        record = layers(walked)[name]
        values = [grey(drawn.colour)] if page.case.grey else drawn.colour
        for channel, value in enumerate(values):
            rows = record.planes[channel] or []
            assert {byte for row in set(rows) for byte in row} <= {value}, name


def test_ids(walked: Walked) -> None:
    """Every record has an id of its own."""
    ids = [record.blocks[b"lyid"] for record in walked.records]
    assert len({*ids}) == len(ids)


def test_fallback_names(walked: Walked) -> None:
    """The name for old readers is MacRoman with question marks, at most 255 bytes."""
    for record in walked.records:
        assert record.name == record.unicode_name.encode("mac_roman", "replace")[:255]


def test_names_by_imagemagick(page: Built) -> None:
    """ImageMagick lists the layers that have pixels, in the order of the file."""
    imagemagick_opens(page.size)
    drawn = rectangular_layers(page)
    empty = {*page.case.drawing, *(name for name in drawn if not drawn[name].cover.any())}
    shown = [name for name in guides(page) + outside_the_group(page) if name not in empty]
    merged, *names = output("identify", "-format", "%l\n", page.layered).decode().splitlines()
    assert merged == ""
    assert names == shown[::-1]


@pytest.mark.parametrize(("edge", "suffix"), [(30_000, "psd"), (30_001, "psb")])
def test_longest_edge(tmp_path: Path, edge: int, suffix: str) -> None:
    """A canvas of 30,000 pixels is still a PSD, one of 30,001 a PSB; both parse to the end."""
    toml = CASES["tall, PSB"].toml.replace("30001", str(edge))
    page = built(Case(toml, dpi=None, suffix=suffix), tmp_path)
    assert walk(page.layered.read_bytes()).height == edge
    assert [path.suffix for path in page.folder.glob("*.ps*")] == [f".{suffix}"]
