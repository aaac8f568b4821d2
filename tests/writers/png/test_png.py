"""The PNGs of a canvas: one of its guides, one of the whole page, a folder with one a layer."""

import json
import re
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from support.books_under_test import BARE, Built, Case, built
from support.composition import grey, laid, paper, with_opacity
from support.independent_raster import rectangular_layers
from support.picture_readers import Seen, by_bytes, by_imagemagick, imagemagick_opens
from support.programs import output
from support.reference import reference

HIDDEN_AT_FIRST = {"Lettering lines", "Construction lines", "Centre lines"}
Planes = dict[str, np.ndarray]


@pytest.fixture(scope="module")
def flat(page: Built) -> np.ndarray:
    """The pixels of the flat PNG, as Pillow reads them."""
    return np.asarray(Image.open(page.flat).convert("RGBA"))


@pytest.fixture(scope="module")
def layers(page: Built) -> Planes:
    """The pixels of every single PNG by the layer's name, the uppermost first, by Pillow."""
    return {
        path.stem.partition(" ")[2]: np.asarray(Image.open(path).convert("RGBA"))
        for path in page.single
    }


@pytest.fixture(scope="module")
def stored(page: Built) -> dict[str, Seen]:
    """The layers of the PSD that have pixels, by name."""
    return {layer.name: layer for layer in by_bytes(page.layered)}


def every(page: Built) -> list[Path]:
    """All PNGs of the canvas."""
    return [page.flat, page.small, page.whole, *page.single]


def test_pngcheck(page: Built) -> None:
    """The program pngcheck finds no error in any PNG: chunks, sums, zlib stream, palette."""
    told = output("pngcheck", *every(page)).decode().splitlines()
    number = len(every(page))
    assert told[-1] == f"No errors were detected in {number} of the {number} files tested."


def test_size_and_mode(page: Built) -> None:
    """Every PNG is as large as the canvas, in full colour or grey, and only the small is indexed.

    What is transparent has alpha, the page as it is seen has none.
    """
    plain = "L" if page.case.grey else "RGB"
    for path in every(page):
        picture = Image.open(path)
        assert picture.size == page.size
        assert picture.mode == {page.small: "P", page.whole: plain}.get(path, f"{plain}A")
        assert ("transparency" in picture.info) == (path == page.small)
        assert not picture.info.get("interlace")


def test_the_small_one(page: Built, flat: np.ndarray) -> None:
    """It shows the same in as few bits as tell its colours apart, none of which is there twice."""
    reader = reference("png").Reader(filename=str(page.small))
    reader.preamble()
    palette = reader.palette(alpha="force")
    assert len({*palette}) == len(palette)
    bits = max(1, (len(palette) - 1).bit_length())
    assert reader.bitdepth == next(depth for depth in (1, 2, 4, 8) if bits <= depth)
    assert np.array_equal(np.asarray(Image.open(page.small).convert("RGBA")), flat)
    assert page.small.stat().st_size < page.flat.stat().st_size


def test_resolution(page: Built) -> None:
    """All PNGs carry the resolution, which reads back to within 0.02 dpi."""
    for path in every(page):
        across, down = Image.open(path).info["dpi"]
        assert across == down == pytest.approx(page.boxes["dpi"], abs=0.02)


def test_colour_space_and_geometry(page: Built) -> None:
    """All PNGs are marked as sRGB, with a title, a sentence and the page's geometry as JSON."""
    for path in every(page):
        picture = Image.open(path)
        picture.load()
        assert picture.info["srgb"] == 0  # section 11.3.2.5: perceptual
        sentence, _, data = picture.info["Description"].split("\n")
        assert sentence.startswith(f"{picture.info['Title']}: ")
        assert f"{page.size[0]} × {page.size[1]} px at {page.boxes['dpi']} dpi." in sentence
        assert json.loads(data)["page"] == page.boxes


def test_flat_is_the_guides_and_borders(page: Built, flat: np.ndarray, layers: Planes) -> None:
    """The flat PNG is all visible layers but the sheet, laid on each other over nothing."""
    shown = [plane for name, plane in layers.items() if name not in {*HIDDEN_AT_FIRST, "Paper"}]
    composed = laid(paper(page.size, 0, 0, 0, 0), shown[::-1])
    assert np.array_equal(flat, composed)


def test_whole_page(page: Built, layers: Planes) -> None:
    """The PNG of the page is all visible layers on the paper, and nothing of it is transparent."""
    seen = np.asarray(Image.open(page.whole).convert("RGBA"))
    shown = [plane for name, plane in layers.items() if name not in HIDDEN_AT_FIRST]
    below = (grey(page.case.paper),) * 3 if page.case.grey else page.case.paper
    composed = laid(paper(page.size, *below, 255), shown[::-1])
    assert np.array_equal(seen, composed)
    assert (seen[..., 3] == 255).all()


def test_flat_by_pillow_compositing(page: Built, flat: np.ndarray, layers: Planes) -> None:
    """Pillow lays the same layers on each other with at most one step of 255 between the two."""
    composed = Image.new("RGBA", page.size)
    for name, plane in reversed(layers.items()):
        if name not in {*HIDDEN_AT_FIRST, "Paper"}:
            composed.alpha_composite(Image.fromarray(plane))
    off = np.abs(np.asarray(composed).astype(int) - flat)
    assert off[..., 3].max() <= 1
    assert off[flat[..., 3] > 0].max() <= 1


def test_flat_by_pypng(page: Built, flat: np.ndarray) -> None:
    """The reader pypng, which undoes filters and palettes by itself, sees the same pixels."""
    *_, rows, _ = reference("png").Reader(filename=str(page.flat)).asRGBA8()
    assert np.array_equal(np.vstack([*map(np.uint8, rows)]).reshape(flat.shape), flat)


def test_flat_by_imagemagick(page: Built, flat: np.ndarray) -> None:
    """ImageMagick reads the same size, resolution and pixels."""
    imagemagick_opens(page.size)
    (seen,) = by_imagemagick(page.flat)
    assert np.array_equal(seen.pixels, flat)
    across, unit = output("identify", "-format", "%x %U", page.flat).decode().split()
    inches = float(across) * (2.54 if unit == "PixelsPerCentimeter" else 1)
    assert inches == pytest.approx(page.boxes["dpi"], abs=0.02)


def test_one_file_a_layer(page: Built, layers: Planes, stored: dict[str, Seen]) -> None:
    """The folder has one file a layer of the PSD, drawing layers included."""
    assert set(layers) >= set(stored)
    empty = {name.encode()[:100].decode(errors="ignore") for name in page.case.drawing}
    assert {name for name, plane in layers.items() if not plane.any()} >= empty
    assert set(layers) >= empty


def test_single_layers_are_those_of_the_psd(
    page: Built, layers: Planes, stored: dict[str, Seen]
) -> None:
    """Each file has the pixels of the layer of that name in the PSD, its opacity applied."""
    for name, plane in layers.items():
        if name not in stored:
            assert not plane.any(), name
            continue
        wanted = with_opacity(stored[name].on(page.size), stored[name].opacity)
        assert np.array_equal(plane[..., 3], wanted[..., 3]), name
        seen = wanted[..., 3] > 0
        assert np.array_equal(plane[seen][:, :3], wanted[seen][:, :3]), name


def test_rectangular_layers(page: Built, layers: Planes) -> None:
    """The files of the rectangular layers have every pixel where the boxes say, in its colour."""
    for name, drawn in rectangular_layers(page).items():
        wanted = np.zeros((*drawn.cover.shape, 4), np.uint8)
        colour = (grey(drawn.colour),) * 3 if page.case.grey else drawn.colour
        wanted[drawn.cover > 0] = (*colour, drawn.opacity)
        assert np.array_equal(layers.get(name, np.zeros_like(wanted)), wanted), name


@pytest.mark.parametrize("grey_", [False, True], ids=["colour", "grey"])
@pytest.mark.parametrize("name", ["png", "png-page", "png-layers"])
def test_sixteen_bits(tmp_path: Path, name: str, grey_: bool) -> None:
    """An issue of 16 bits gives PNGs of 16 bits, in grey if it is grey; v is stored as v × 257."""
    form = f'format.colour = "{"grey" if grey_ else "rgb"}"\nformat.paper = "#fff4e0"\n'
    for depth in (8, 16):
        (tmp_path / str(depth)).mkdir()
        toml = BARE.replace("[[pages]]", f"{form}format.depth = {depth}\n[[pages]]")
        page = built(Case(toml, dpi=20), tmp_path / str(depth), (name,))
    for path in sorted(page.folder.rglob("*.png")):
        _, _, rows, info = reference("png").Reader(filename=str(path)).read()
        assert (info["bitdepth"], info["greyscale"]) == (16, grey_)
        same = tmp_path / "8" / "out" / path.relative_to(page.folder)
        _, _, plain, _ = reference("png").Reader(filename=str(same)).read()
        for row, other in zip(rows, plain, strict=True):
            assert [*row] == [value * 257 for value in other]


def test_names_sort_as_the_stack(tmp_path: Path) -> None:
    """Sorted by name, the files of one page lie in the order of its stack, however many layers."""
    names = [f"Layer {number}" for number in range(120, 0, -1)]
    listed = ", ".join(f'"{name}"' for name in names)
    toml = BARE.replace("[[pages]]", f"format.drawing = [{listed}]\n[[pages]]")
    page = built(Case(toml, dpi=20), tmp_path, ("png-layers",))
    drawing = [path.stem for path in page.single if "Layer" in path.name]
    assert [stem.partition(" ")[2] for stem in drawing] == names


def test_file_names(tmp_path: Path) -> None:
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
