"""Flat TIFFs, read back by tifffile, Pillow and ImageMagick (TIFF 6.0)."""

import io
import json
import struct
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from numpy.typing import NDArray
from PIL import Image, ImageCms
from PIL.TiffImagePlugin import TiffImageFile
from support.catalogue import writer_called
from support.composition import in_grey
from support.planes import rgba
from support.programs import output
from support.reference import reference
from support.sample_stack import stacks

from guidekit.layers.model import Stack, visible_inks
from guidekit.memory import remembering
from guidekit.plane.box import Box
from guidekit.plugins.stacks import sample
from guidekit.raster.blend import flatten

FORMATS = ("tiff", "tiff-page")


def tiff(stack: Stack, name: str) -> bytes:
    """The bytes of the one file that the writer makes."""
    (file,) = writer_called(name).write(stack)
    assert file.name == stack.file_name + {"tiff": ".tif", "tiff-page": "-page.tif"}[name]
    return b"".join(file.pieces)


def wanted(stack: Stack, name: str) -> NDArray[np.int64]:
    """The samples as they must come out: all visible layers, expanded to a full plane."""
    stack = in_grey(stack)
    if name == "tiff":
        picture = flatten(visible_inks(stack, backdrop=False), stack.canvas)
        pixels = rgba(picture, stack.canvas)
        assert not pixels[pixels[..., 3] == 0].any()  # nothing is black nothing
    else:
        pixels = rgba(flatten(visible_inks(stack), stack.canvas, stack.paper), stack.canvas)
        assert (pixels[..., 3] == 255).all()
        pixels = pixels[..., :3]
    if stack.grey:
        pixels = pixels[..., 2:]
    return pixels * (257 if stack.depth == 16 else 1)


@pytest.mark.parametrize("name", FORMATS)
@given(stack=stacks())
def test_every_sample(name: str, stack: Stack) -> None:
    """Any canvas, colour or grey, 8 or 16 bits: tifffile reads what numpy expands."""
    data = tiff(stack, name)
    pixels = reference("tifffile").imread(io.BytesIO(data))
    pixels = pixels.reshape(stack.canvas.height, stack.canvas.width, -1)
    assert pixels.dtype == (np.uint16 if stack.depth == 16 else np.uint8)
    assert (pixels == wanted(stack, name)).all()


@pytest.mark.parametrize("grey", [False, True])
@pytest.mark.parametrize("name", FORMATS)
def test_pillow(name: str, grey: bool) -> None:
    """Pillow reads pixels, size, resolution and the profile of its colours."""
    stack = sample(grey=grey)
    with Image.open(io.BytesIO(tiff(stack, name))) as image:
        mode = ("L" if grey else "RGB") + ("A" if name == "tiff" else "")
        assert (image.mode, image.size) == (mode, (301, 203))
        assert image.info["dpi"] == (350, 350)
        profile = ImageCms.ImageCmsProfile(io.BytesIO(image.info["icc_profile"]))
        assert profile.profile.xcolor_space.strip() == ("GRAY" if grey else "RGB")
        pixels = np.asarray(image).reshape(203, 301, -1)
        assert (pixels == wanted(stack, name)).all()


@pytest.mark.parametrize("name", FORMATS)
def test_no_profile(name: str) -> None:
    """A stack that wants no profile is stored without one, its pixels the same."""
    stack = sample(profile=False)
    with Image.open(io.BytesIO(tiff(stack, name))) as image:
        assert "icc_profile" not in image.info
        assert (np.asarray(image) == wanted(stack, name)).all()


@pytest.mark.parametrize("depth", [8, 16])
@pytest.mark.parametrize("grey", [False, True])
@pytest.mark.parametrize("name", FORMATS)
def test_imagemagick(name: str, grey: bool, depth: int, tmp_path: Path) -> None:
    """ImageMagick, through libtiff, reads size, resolution, depth and pixels."""
    stack = sample(grey=grey, depth=depth)
    path = tmp_path / "picture.tif"
    path.write_bytes(tiff(stack, name))
    told = output("identify", "-format", "%m %w %h %x %y %U %z", path)
    assert told.decode() == f"TIFF 301 203 350 350 PixelsPerInch {depth}"
    raw = output("convert", path, "-endian", "LSB", "-depth", str(depth), "RGBA:-")
    pixels = np.frombuffer(raw, "<u2" if depth == 16 else "u1").reshape(203, 301, 4)
    samples = wanted(stack, name)
    colours = 1 if grey else 3
    clear = samples[..., -1] == 0 if name == "tiff" else np.zeros((203, 301), bool)
    assert (pixels[..., :colours] == samples[..., :colours])[~clear].all()
    full = 65535 if depth == 16 else 255
    assert (pixels[..., 3] == (samples[..., -1] if name == "tiff" else full)).all()


@pytest.mark.parametrize("grey", [False, True])
@pytest.mark.parametrize("name", FORMATS)
def test_fields(name: str, grey: bool) -> None:
    """All fields that TIFF 6.0 asks of such a picture (sections 4 and 6), and no date or maker."""
    tags = reference("tifffile").TiffFile(io.BytesIO(tiff(sample(grey=grey), name))).pages[0].tags
    alpha = name == "tiff"
    count = (1 if grey else 3) + alpha
    fields = {tag.code: tag.value for tag in tags if tag.code not in (273, 279, 270, 34675)}
    bits = 8 if count == 1 else (8,) * count
    expected = {
        256: 301, 257: 203, 258: bits, 259: 8, 262: 1 if grey else 2, 277: count, 278: 64,
        282: (350, 1), 283: (350, 1), 284: 1, 296: 2, 317: 2,
    }  # fmt: skip
    assert fields == expected | ({338: (2,)} if alpha else {})


@pytest.mark.parametrize("name", FORMATS)
def test_structure(name: str) -> None:
    """Offsets are even, entries in order, 203 rows in strips of 64 (TIFF 6.0, section 2)."""
    data = tiff(sample(), name)
    order, magic, at = struct.unpack_from("<2sHI", data)
    assert (order, magic, at % 2) == (b"II", 42, 0)
    (count,) = struct.unpack_from("<H", data, at)
    entries = [struct.unpack_from("<HHII", data, at + 2 + 12 * n) for n in range(count)]
    assert [entry[0] for entry in entries] == sorted({entry[0] for entry in entries})
    assert struct.unpack_from("<I", data, at + 2 + 12 * count) == (0,)
    size = {2: 1, 3: 2, 4: 4, 5: 8, 7: 1}  # bytes of a value of each type
    far = [value for _, kind, number, value in entries if size[kind] * number > 4]
    assert far
    assert all(value % 2 == 0 and value >= at for value in far)
    page = reference("tifffile").TiffFile(io.BytesIO(data)).pages[0]
    assert len(page.dataoffsets) == 4
    assert page.dataoffsets[0] == 8
    ends = [a + b for a, b in zip(page.dataoffsets, page.databytecounts, strict=True)]
    assert list(page.dataoffsets[1:]) == ends[:-1]
    assert at - ends[-1] in (0, 1)


def test_description() -> None:
    """The description is the stack's info as JSON, in ASCII (section 2, type 2), and no more."""
    stack = sample()
    with Image.open(io.BytesIO(tiff(stack, "tiff"))) as image:
        assert isinstance(image, TiffImageFile)
        text = image.tag_v2[270]
    assert text.isascii()
    assert json.loads(text) == stack.info


@pytest.mark.parametrize("dpi", [72, 300, 600, 1200])
def test_resolution_is_exact(dpi: int) -> None:
    """Resolution is a fraction in TIFF: no rounding, whatever it is."""
    with Image.open(io.BytesIO(tiff(sample(dpi=dpi), "tiff"))) as image:
        assert isinstance(image, TiffImageFile)
        assert Fraction(image.tag_v2[282].numerator, image.tag_v2[282].denominator) == dpi


@pytest.mark.parametrize("name", FORMATS)
def test_same_bytes(name: str) -> None:
    """The same stack gives the same bytes, whatever was kept from before."""
    first = tiff(sample(), name)
    with remembering():
        assert tiff(sample(), name) == first
        assert tiff(sample(), name) == first


def test_tall_canvas() -> None:
    """A band of many strips, cut wherever 64 rows are full: 301 strips with one row in the last."""
    stack = sample(canvas=Box(0, 0, 40, 64 * 300 + 1))
    page = reference("tifffile").TiffFile(io.BytesIO(tiff(stack, "tiff-page"))).pages[0]
    assert len(page.dataoffsets) == 301
    assert (page.asarray() == wanted(stack, "tiff-page")).all()
