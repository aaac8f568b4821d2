"""Files of 16 bits a channel: every value is 257 times that of 8 bits, and white stays white."""

from pathlib import Path

import numpy as np
import pytest
from psd_tools import PSDImage
from support.books_under_test import Built, Case, built
from support.picture_readers import Seen, by_bytes, by_imagemagick, values, without_thumbnail
from support.programs import output
from support.psd_walk import walk
from support.reference import reference

TOML = """
title = "Deep"
preset = "us-comic"
[format]
depth = {depth}
colour = "{colour}"
paper = "#f7ecd0"
trim = {{ width = "300 px", height = "400 px" }}
bleed = "10 px"
safe_area = "20 px"
[[pages]]
tiers = [{{ panels = 2, slant = "9 deg" }}, 1]
"""
COLOURS = ("rgb", "grey")


class Pair:
    """One page with 8 and with 16 bits a channel."""

    def __init__(self, colour: str, folder: Path) -> None:
        self.grey = colour == "grey"
        self.plain, self.deep = (self._built(folder, depth, colour) for depth in (8, 16))

    def _built(self, folder: Path, depth: int, colour: str) -> Built:
        (folder / str(depth)).mkdir()
        case = Case(TOML.format(depth=depth, colour=colour), grey=self.grey)
        return built(case, folder / str(depth))

    @property
    def layers(self) -> list[Seen]:
        """The layers of the 8-bit file, by its bytes, which other tests compare with readers."""
        return by_bytes(self.plain.layered)

    @property
    def merged(self) -> np.ndarray:
        """The merged image of the 8-bit file as red, green and blue."""
        return by_imagemagick(self.plain.layered)[0].pixels[..., :3]


@pytest.fixture(scope="module", params=COLOURS)
def pair(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Pair:
    """The page in colour and in grey."""
    return Pair(request.param, tmp_path_factory.mktemp("deep"))


def deep(values: np.ndarray) -> np.ndarray:
    """8-bit values in 16 bits: 255 becomes 65535."""
    return values.astype(np.int64) * 257


def test_header(pair: Pair) -> None:
    """By the specification: depth 16, the same mode, channels and size, and every length right."""
    ours, other = (walk(x.layered.read_bytes()) for x in (pair.deep, pair.plain))
    assert (ours.depth, other.depth) == (16, 8)
    assert (ours.mode, ours.channels) == ((1, 1) if pair.grey else (3, 3))
    assert (ours.width, ours.height) == (other.width, other.height) == pair.plain.size


def test_only_the_values_differ(pair: Pair) -> None:
    """Names, rectangles, flags, opacity and blocks of all records are those of the 8-bit file."""
    ours, other = (walk(x.layered.read_bytes()).records for x in (pair.deep, pair.plain))
    for a, b in zip(ours, other, strict=True):
        assert (a.left, a.top, a.right, a.bottom) == (b.left, b.top, b.right, b.bottom)
        assert (a.name, a.opacity, a.blend, a.flags) == (b.name, b.opacity, b.blend, b.flags)
        assert a.blocks == b.blocks


def test_layers_by_psd_tools(pair: Pair) -> None:
    """psd-tools sees 257 times each value in every layer."""
    opened = PSDImage.open(pair.deep.layered)
    assert opened.depth == 16
    found = [x for x in opened.descendants() if not x.is_group() and x.width]
    for ours, theirs in zip(pair.layers, found, strict=True):
        seen = np.rint(values(theirs).astype(float) * 65535).astype(np.int64)
        seen = seen[..., [0, 0, 0, 1]] if pair.grey else seen
        assert (theirs.left, theirs.top) == (ours.left, ours.top)
        assert np.array_equal(seen, deep(ours.pixels)), ours.name


def test_merged_image_by_psd_tools(pair: Pair) -> None:
    """psd-tools sees 257 times each value in the merged image."""
    values = PSDImage.open(pair.deep.layered).numpy("color").astype(float) * 65535
    wanted = deep(pair.merged)[..., : values.shape[2]]
    assert np.array_equal(np.rint(values).astype(np.int64), wanted)


def test_by_imagemagick(pair: Pair) -> None:
    """ImageMagick opens 16 bits, in the merged image and in every layer, opacity applied."""
    layers = [np.dstack([pair.merged, np.full(pair.merged.shape[:2], 255)])]
    layers += [layer.pixels for layer in pair.layers]
    opacity = [255, *(layer.opacity for layer in pair.layers)]
    path = pair.deep.layered
    depths = output("identify", "-format", "%z ", path).decode().split()
    assert {*depths} == {"16"}
    data = np.frombuffer(output("convert", path, "-endian", "MSB", "-depth", "16", "rgba:-"), ">u2")
    at = 0
    for pixels, opaque in zip(layers, opacity, strict=True):
        found = data[at : at + pixels.size].reshape(pixels.shape).astype(np.int64)
        at += pixels.size
        assert np.array_equal(found[..., :3], deep(pixels[..., :3]))
        alpha = deep(pixels[..., 3]) * opaque / 255
        assert np.abs(found[..., 3] - alpha).max() <= 1
    assert at == data.size


def test_by_openimageio(pair: Pair, tmp_path: Path) -> None:
    """OpenImageIO opens 16 bits, and sees 257 times each value in the merged image."""
    plain = without_thumbnail(pair.deep.layered, tmp_path)
    told = output("oiiotool", "--info", plain).decode()
    assert f"{1 if pair.grey else 3} channel, uint16 psd" in told
    out = tmp_path / "merged.tif"
    output("oiiotool", "--native", "--compression", "none", plain, "--subimage", "0", "-o", out)
    found = np.atleast_3d(reference("tifffile").imread(out, key=0))
    assert found.dtype == np.uint16
    assert np.array_equal(found, deep(pair.merged)[..., : found.shape[2]])


def test_grey_is_grey(pair: Pair) -> None:
    """In a grey file ImageMagick and psd-tools see grey, else red, green and blue."""
    told = output("identify", "-format", "%[colorspace]", f"{pair.deep.layered}[0]").decode()
    assert told == ("Gray" if pair.grey else "sRGB")
    mode = PSDImage.open(pair.deep.layered).color_mode.name
    assert mode == ("GRAYSCALE" if pair.grey else "RGB")
