"""The PNGs of a canvas: one of its guides, one of the whole page, a folder with one a layer."""

import json
import re
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from support.books_under_test import BARE, CASES, Built, Case, built
from support.composition import grey, laid, paper, with_opacity
from support.independent_raster import rectangular_layers
from support.picture_readers import IMAGEMAGICK_LIMIT, Seen, by_bytes, by_imagemagick
from support.programs import output
from support.reference import reference

HIDDEN_AT_FIRST = {"Lettering lines", "Construction lines", "Centre lines"}
Planes = dict[str, np.ndarray]


@pytest.fixture(scope="module", params=CASES)
def page(request, tmp_path_factory) -> Built:
    """Each of the canvases in turn, as PSD and as all kinds of PNG."""
    folder = tmp_path_factory.mktemp("page")
    return built(CASES[request.param], folder, ("psd", "png", "png-page", "png-layers"))


@pytest.fixture(scope="module")
def flat(page) -> np.ndarray:
    """The pixels of the flat PNG, as Pillow reads them."""
    return np.asarray(Image.open(page.flat).convert("RGBA"))


@pytest.fixture(scope="module")
def layers(page) -> Planes:
    """The pixels of every single PNG by the layer's name, the uppermost first, by Pillow."""
    return {
        path.stem.partition(" ")[2]: np.asarray(Image.open(path).convert("RGBA"))
        for path in page.single
    }


@pytest.fixture(scope="module")
def stored(page) -> dict[str, Seen]:
    """The layers of the PSD that have pixels, by name."""
    return {layer.name: layer for layer in by_bytes(page.layered)}


def every(page: Built) -> list[Path]:
    """All PNGs of the canvas."""
    return [page.flat, page.whole, *page.single]


def test_pngcheck(page):
    """The program pngcheck finds no error in any PNG: chunks, sums, zlib stream, palette."""
    told = output("pngcheck", *every(page)).decode().splitlines()
    number = len(every(page))
    assert told[-1] == f"No errors were detected in {number} of the {number} files tested."


def test_size_and_mode(page):
    """Every PNG is as large as the canvas, indexed with transparency, and not interlaced."""
    for path in every(page):
        picture = Image.open(path)
        assert picture.size == page.size
        assert picture.mode == "P"
        assert "transparency" in picture.info
        assert not picture.info.get("interlace")


def test_depth(page):
    """Colours take as few bits as tell them apart, and no colour stands there twice."""
    png = reference("png")
    for path in every(page):
        reader = png.Reader(filename=str(path))
        reader.preamble()
        palette = reader.palette(alpha="force")
        assert len({*palette}) == len(palette)
        bits = max(1, (len(palette) - 1).bit_length())
        assert reader.bitdepth == next(depth for depth in (1, 2, 4, 8) if bits <= depth)


def test_resolution(page):
    """All PNGs carry the resolution, which reads back to within 0.02 dpi."""
    for path in every(page):
        across, down = Image.open(path).info["dpi"]
        assert across == down == pytest.approx(page.boxes["dpi"], abs=0.02)


def test_colour_space_and_geometry(page):
    """All PNGs are marked as sRGB and carry the page's geometry as JSON in their description."""
    for path in every(page):
        picture = Image.open(path)
        picture.load()
        assert picture.info["srgb"] == 0  # section 11.3.2.5: perceptual
        assert json.loads(picture.text["Description"])["page"] == page.boxes


def test_flat_is_the_guides_and_borders(page, flat, layers):
    """The flat PNG is all visible layers but the sheet, laid on each other over nothing."""
    shown = [plane for name, plane in layers.items() if name not in {*HIDDEN_AT_FIRST, "Paper"}]
    composed = laid(paper(page.size, 0, 0, 0, 0), shown[::-1])
    assert np.array_equal(flat, composed)


def test_whole_page(page, layers):
    """The PNG of the page is all visible layers on the paper, and nothing of it is transparent."""
    seen = np.asarray(Image.open(page.whole).convert("RGBA"))
    shown = [plane for name, plane in layers.items() if name not in HIDDEN_AT_FIRST]
    composed = laid(paper(page.size, *page.case.paper, 255), shown[::-1])
    assert np.array_equal(seen, composed)
    assert (seen[..., 3] == 255).all()


def test_flat_by_pillow_compositing(page, flat, layers):
    """Pillow lays the same layers on each other with at most one step of 255 between the two."""
    composed = Image.new("RGBA", page.size)
    for name, plane in reversed(layers.items()):
        if name not in {*HIDDEN_AT_FIRST, "Paper"}:
            composed.alpha_composite(Image.fromarray(plane))
    off = np.abs(np.asarray(composed).astype(int) - flat)
    assert off[..., 3].max() <= 1
    assert off[flat[..., 3] > 0].max() <= 1


def test_flat_by_pypng(page, flat):
    """The reader pypng, which undoes filters and palettes by itself, sees the same pixels."""
    *_, rows, _ = reference("png").Reader(filename=str(page.flat)).asRGBA8()
    assert np.array_equal(np.vstack([*map(np.uint8, rows)]).reshape(flat.shape), flat)


def test_flat_by_imagemagick(page, flat):
    """ImageMagick reads the same size, resolution and pixels."""
    if max(page.size) > IMAGEMAGICK_LIMIT:
        pytest.skip("taller than this program opens unless its policy file is changed")
    (seen,) = by_imagemagick(page.flat)
    assert np.array_equal(seen.pixels, flat)
    across, unit = output("identify", "-format", "%x %U", page.flat).decode().split()
    inches = float(across) * (2.54 if unit == "PixelsPerCentimeter" else 1)
    assert inches == pytest.approx(page.boxes["dpi"], abs=0.02)


def test_one_file_a_layer(page, layers, stored):
    """The folder has one file a layer of the PSD, drawing layers included."""
    assert set(layers) >= set(stored)
    empty = {name.encode()[:100].decode(errors="ignore") for name in page.case.drawing}
    assert {name for name, plane in layers.items() if not plane.any()} >= empty
    assert set(layers) >= empty


def test_single_layers_are_those_of_the_psd(page, layers, stored):
    """Each file has the pixels of the layer of that name in the PSD, its opacity applied."""
    for name, plane in layers.items():
        if name not in stored:
            assert not plane.any(), name
            continue
        wanted = with_opacity(stored[name].on(page.size), stored[name].opacity)
        assert np.array_equal(plane[..., 3], wanted[..., 3]), name
        colours = plane[..., :3][plane[..., 3] > 0]
        if page.case.grey:  # these stay in colour
            assert (colours == colours[0]).all()
            assert {*np.unique(stored[name].pixels[..., 0])} == {grey(tuple(colours[0].tolist()))}
        else:
            assert np.array_equal(colours, wanted[..., :3][wanted[..., 3] > 0]), name


def test_rectangular_layers(page, layers):
    """The files of the rectangular layers have every pixel where the boxes say, in its colour."""
    for name, drawn in rectangular_layers(page).items():
        wanted = np.zeros((*drawn.cover.shape, 4), np.uint8)
        wanted[drawn.cover > 0] = (*drawn.colour, drawn.opacity)
        assert np.array_equal(layers.get(name, np.zeros_like(wanted)), wanted), name


def test_names_sort_as_the_stack(tmp_path):
    """Sorted by name, the files of one page lie in the order of its stack, however many layers."""
    names = [f"Layer {number}" for number in range(120, 0, -1)]
    listed = ", ".join(f'"{name}"' for name in names)
    toml = BARE.replace("[[pages]]", f"format.drawing = [{listed}]\n[[pages]]")
    page = built(Case(toml, dpi=20), tmp_path, ("png-layers",))
    drawing = [path.stem for path in page.single if "Layer" in path.name]
    assert [stem.partition(" ")[2] for stem in drawing] == names


def test_file_names(tmp_path):
    """What a file system would refuse in a layer's name is replaced; nothing leaves the folder."""
    toml = BARE.replace("[[pages]]", 'format.drawing = ["../up", "a/b:c?", "CON.", "."]\n[[pages]]')
    page = built(Case(toml, dpi=20), tmp_path, ("png-layers",))
    *_, borders, _, _, _, _, paper = page.single
    assert borders.stem.endswith(" Panel borders")
    assert paper.stem.endswith(" Paper")
    for path in page.single:
        assert re.fullmatch(r'\d\d [^\x00-\x1f<>:"/\\|?*]*[^ .<>:"/\\|?*]\.png', path.name)
    assert {path.name for path in page.folder.iterdir()} == {
        page.boxes["file_name"],
        ".guidekit.json",
    }
