"""The pictures inside OpenRaster files: layers, merged image, thumbnail, pixel for pixel."""

import io
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from hypothesis import given
from PIL import Image
from support.catalogue import writer_called
from support.composition import in_grey
from support.ora_file import image_of, opened, ora, picture, pixels
from support.planes import plane, rgba
from support.reference import reference
from support.sample_stack import stacks

from guidekit.layers.model import Layer, Stack, all_layers, visible_inks
from guidekit.plane.box import Box
from guidekit.plugins.stacks import MEMBERS, sample
from guidekit.raster.blend import flatten
from guidekit.raster.shapes import Rule, cover
from guidekit.writers.pixels.thumbnail import thumbnail


def check_layers(stack: Stack) -> None:
    """Every layer, put where it says, is the layer's coverage in its colour; cropped tightly.

    In a grey file the colour is its luminance in all three channels.
    """
    file = opened(stack)
    stack = in_grey(stack)
    elements = [*ET.fromstring(file.read("stack.xml")).iter("layer")]
    layers = [*all_layers(stack.members)]
    for layer, element in zip(layers, elements, strict=True):
        png = picture(file, element.attrib["src"])
        assert png.mode == "RGBA"
        assert png.info["dpi"] == pytest.approx((stack.dpi, stack.dpi), abs=0.02)
        x, y = int(element.attrib["x"]), int(element.attrib["y"])
        alpha = np.zeros((stack.canvas.height, stack.canvas.width), np.int64)
        own = pixels(png)
        alpha[y : y + png.height, x : x + png.width] = own[..., 3]
        assert (alpha == plane(cover(layer.shapes, stack.canvas), stack.canvas)).all()
        if not alpha.any():
            assert (x, y, png.size) == (0, 0, (1, 1))
            continue
        assert (own[..., :3] == layer.colour).all()
        assert png.getchannel("A").getbbox() == (0, 0, *png.size)


def test_layers() -> None:
    """The sample: slanted edges, dashes, flat sheets, an empty layer, one in a masked group."""
    check_layers(sample())


@given(stacks())
def test_any_layers(stack: Stack) -> None:
    """The same for canvases and shapes of any kind."""
    check_layers(stack)


def test_canvas_with_another_origin() -> None:
    """Places count from the canvas's corner, wherever that is."""
    stack = sample(canvas=Box(-10, -20, 30, 40), members=(Layer("a", (Rule(Box(0, 0, 5, 5)),)),))
    (layer,) = image_of(stack).iter("layer")
    assert (layer.attrib["x"], layer.attrib["y"]) == ("10", "20")


@pytest.mark.parametrize("grey", [False, True])
@pytest.mark.parametrize("depth", [8, 16])
def test_depth(depth: int, grey: bool) -> None:
    """Layers have the depth of the stack, and in a grey one equal red, green and blue."""
    stack = sample(grey=grey, depth=depth)
    file = opened(stack)
    for path in [name for name in file.namelist() if name.startswith("data/")]:
        _, _, rows, info = reference("png").Reader(bytes=file.read(path)).read()
        assert (info["bitdepth"], info["alpha"], info["greyscale"]) == (depth, True, False)
        samples = np.vstack([*map(np.uint16, rows)]).reshape(-1, 4)
        assert not (samples % (257 if depth == 16 else 1)).any()
        if grey:
            assert (samples[:, 0] == samples[:, 1]).all()
            assert (samples[:, 0] == samples[:, 2]).all()
    assert picture(file, "mergedimage.png").mode == "RGB"


@given(stacks().map(lambda stack: replace(stack, depth=8)))
def test_merged_image(stack: Stack) -> None:
    """The merged image is opaque and has the pixels of the format png-page."""
    merged = pixels(picture(opened(stack), "mergedimage.png"))
    (page,) = writer_called("png-page").write(stack)
    assert (merged == pixels(Image.open(io.BytesIO(b"".join(page.pieces))))).all()
    assert (merged[..., 3] == 255).all()


def test_merged_image_is_what_is_seen() -> None:
    """Masks, blending and hidden layers are worked into the merged image."""
    stack = sample()
    merged = pixels(picture(opened(stack), "mergedimage.png"))
    seen = flatten(visible_inks(stack), stack.canvas, stack.paper)
    assert (merged == rgba(seen, stack.canvas)).all()
    assert merged[100, 5, :3].tolist() == [250, 248, 240]  # outside the mask: paper
    assert merged[60, 120, :3].tolist() == [86, 180, 233]  # inside: what is in the group


def test_thumbnail() -> None:
    """8 bits, no alpha, at most 256 pixels, as large as possible, the mean of what it shows."""
    stack = sample()
    small = picture(opened(stack), "Thumbnails/thumbnail.png")
    assert (small.mode, small.size, small.info.get("interlace")) == ("RGB", (256, 173), None)
    seen = flatten(visible_inks(stack), stack.canvas, stack.paper)
    assert (np.asarray(small) == thumbnail([seen], 256)).all()


@given(stacks())
def test_small_thumbnail(stack: Stack) -> None:
    """A canvas of less than 256 pixels is its own thumbnail."""
    file = opened(stack)
    small = pixels(picture(file, "Thumbnails/thumbnail.png"))
    assert (small == pixels(picture(file, "mergedimage.png"))).all()


def test_pyora_composes_the_same(tmp_path: Path) -> None:
    """What pyora composes of the layers is the merged image, within what rounding does."""
    stack = sample(members=tuple(m for m in MEMBERS if not getattr(m, "mask", ())))
    path = tmp_path / "sample.ora"
    path.write_bytes(ora(stack))
    project = reference("pyora").Project.load(str(path))
    composed = pixels(project.get_image_data(use_original=False))
    merged = pixels(project.get_image_data(use_original=True))
    assert np.abs(composed - merged).max() <= 2
