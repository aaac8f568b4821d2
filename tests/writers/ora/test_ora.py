"""OpenRaster files, taken apart with zipfile and an XML parser and read back by pyora."""

import zipfile
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from support.catalogue import stack_of
from support.ora_file import image_of, opened, ora, pixels
from support.planes import plane
from support.reference import reference

from guidekit import build_issue, load_issue
from guidekit.geometry.plan import plan_issue
from guidekit.layers.model import Group, Layer, all_layers
from guidekit.memory import remembering
from guidekit.plugins.stacks import CANVAS, MEMBERS, sample
from guidekit.raster.shapes import cover

#: Seen in a painter: it enlarges canvases to tiles of 64 px on saving unless this is there.
FRAME = "{http://mypaint.org/ns/openraster}frame-active"


def test_layout() -> None:
    """Exactly the files that the file layout specification asks for, and one for each layer."""
    names = opened(sample()).namelist()
    assert names[:2] == ["mimetype", "stack.xml"]
    assert names[2:-2] == [f"data/layer{number:03}.png" for number in range(9)]
    assert names[-2:] == ["mergedimage.png", "Thumbnails/thumbnail.png"]


def test_media_type() -> None:
    """The type stands plainly at byte 38 of the file, stored, with no line end and nothing else."""
    data = ora(sample())
    assert data[:4] == b"PK\3\4"
    assert data[30:54] == b"mimetypeimage/openraster"
    assert data[54:58] == b"PK\3\4"
    entry = opened(sample()).infolist()[0]
    assert (entry.compress_type, entry.flag_bits, entry.extra) == (zipfile.ZIP_STORED, 0, b"")


def test_zip_is_sound_and_dateless() -> None:
    """Check sums hold, all is stored, and nothing tells when or where the file was made."""
    file = opened(sample())
    assert file.testzip() is None
    for entry in file.infolist():
        assert entry.compress_type == zipfile.ZIP_STORED
        assert entry.date_time == (1980, 1, 1, 0, 0, 0)
        assert (entry.create_system, entry.external_attr) == (3, 0o644 << 16)


def test_image() -> None:
    """Version, size and whole pixels per inch; the root stack takes no attributes."""
    image = image_of(sample())
    assert image.tag == "image"
    size = {"w": "301", "h": "203", "xres": "350", "yres": "350"}
    assert image.attrib == {"version": "0.0.6", FRAME: "true"} | size
    assert [(child.tag, child.attrib) for child in image] == [("stack", {})]


#: What the stack of `plugins.stacks` must become: depth, then attributes that matter, top down.
TREE = [
    (1, "stack", "案内 Guides", "visible", "1.0", "svg:src-over", True),
    (2, "layer", "文字の下書き線", "visible", "0.502", "svg:src-over", False),
    (2, "stack", "خطوط", "hidden", "1.0", "svg:src-over", False),
    (3, "layer", "حدّ القص", "visible", "1.0", "svg:src-over", True),
    (3, "layer", "hidden", "hidden", "1.0", "svg:src-over", False),
    (2, "layer", "🖋 & <\"'>", "visible", "1.0", "svg:src-over", False),
    (1, "stack", "masked", "visible", "1.0", "svg:src-over", False),
    (2, "layer", "in mask", "visible", "1.0", "svg:src-over", False),
    (1, "layer", "shade", "visible", "0.6", "svg:multiply", False),
    (1, "layer", "Inks", "visible", "1.0", "svg:src-over", False),
    (1, "layer", "wash", "visible", "1.0", "svg:multiply", False),
    (1, "layer", "paper", "visible", "1.0", "svg:src-over", True),
]


def test_tree() -> None:
    """Order, nesting, names, visibility, opacity, blending, locks (layer stack specification)."""
    found = []

    def walk(parent: ET.Element, depth: int) -> None:
        for child in parent:
            said = child.attrib
            assert said.get("edit-locked") in (None, "true")
            locked = "edit-locked" in said
            keys = ("name", "visibility", "opacity", "composite-op")
            found.append((depth, child.tag, *(said[key] for key in keys), locked))
            if child.tag == "stack":
                assert not {"x", "y", "src"} & set(said)  # not from version 0.0.6 on
                assert said["isolation"] == "auto"
                walk(child, depth + 1)

    walk(image_of(sample())[0], 1)
    assert found == TREE


def test_opacity_comes_back() -> None:
    """Each of the 256 opacities is told apart."""
    layers = tuple(Layer(str(opacity), opacity=opacity) for opacity in range(256))
    image = image_of(sample(members=layers))
    said = [float(layer.attrib["opacity"]) for layer in image.iter("layer")]
    assert [round(value * 255) for value in said] == [*range(256)]


def test_selected() -> None:
    """The layer to draw on first is selected, and no other, not even one that equals it."""
    twin = Layer("Inks")
    twins = (Layer("Inks"), Group("Inks", (twin, Layer("Pencils"))))
    for stack, wanted in ((sample(), [6]), (sample(members=twins, selected=twin), [1])):
        layers = [*image_of(stack).iter("layer")]
        found = [n for n, layer in enumerate(layers) if "selected" in layer.attrib]
        assert found == wanted
        assert layers[found[0]].attrib["selected"] == "true"
    assert b"selected" not in opened(sample(selected=None)).read("stack.xml")


@pytest.mark.parametrize("name", ["a\x01b", "a\ufffeb", "a\x1bb"])
def test_name_that_xml_cannot_hold(name: str) -> None:
    """XML 1.0 (section 2.2) has no place for some characters; the file stays readable."""
    image = image_of(sample(members=(Layer(name),)))
    assert [layer.attrib["name"] for layer in image.iter("layer")] == ["a\ufffdb"]


def test_line_break_in_a_name() -> None:
    """White space in a name is kept, which an XML parser would make a blank if it stood plainly."""
    image = image_of(sample(members=(Layer("a\nb\tc"),)))
    assert [layer.attrib["name"] for layer in image.iter("layer")] == ["a\nb\tc"]


def test_pyora(tmp_path: Path) -> None:
    """Pyora reads size, resolution, tree, places, opacity, blending and every pixel."""
    path = tmp_path / "sample.ora"
    path.write_bytes(ora(sample()))
    project = reference("pyora").Project.load(str(path))
    assert (project.dimensions, project.ppi) == ((301, 203), ("350", "350"))
    assert [child.name for child in project.children] == [member.name for member in MEMBERS]
    lowest_first = [*project.iter_layers]
    layers = [*all_layers(MEMBERS)][::-1]
    assert [layer.name for layer in lowest_first] == [layer.name for layer in layers]
    for read, layer in zip(lowest_first, layers, strict=True):
        assert read.visible == layer.visible
        assert round(read.opacity * 255) == layer.opacity
        assert (read.composite_op == "svg:multiply") == (layer.blend == "multiply")
        box = cover(layer.shapes, CANVAS).box
        assert read.offsets == (box.left, box.top)
        full = pixels(read.get_image_data(raw=False))
        assert (full[..., 3] == plane(cover(layer.shapes, CANVAS), CANVAS)).all()
    deep = project["/案内 Guides/خطوط/حدّ القص"]
    assert (deep.visible, deep.visible_rendered) == (True, False)


def test_same_bytes() -> None:
    """The same stack gives the same bytes, with what was kept from before and without."""
    first = ora(sample())
    with remembering():
        assert ora(sample()) == first
        assert ora(sample()) == first


def test_a_built_page(tmp_path: Path) -> None:
    """A page of an issue by its format's name, read by pyora: all layers, all in place."""
    issue = tmp_path / "harbour.toml"
    issue.write_text('title = "Harbour"\npreset = "us-comic"\n[[pages]]\ntiers = [2, 3, 1]\n')
    report = build_issue(issue, tmp_path / "out", formats=["ora"], dpi=100)
    (name,) = report.named("written")
    stack = stack_of(plan_issue(load_issue(issue, dpi=100), None)[0])
    assert name == f"{stack.file_name}.ora"
    project = reference("pyora").Project.load(str(report.folder / name))
    assert project.dimensions == (stack.canvas.width, stack.canvas.height)
    names = [layer.name for layer in project.iter_layers]
    assert names == [layer.name for layer in all_layers(stack.members)][::-1]
    assert (report.folder / name).read_bytes() == ora(stack)
