"""The pixels of a layered file, as four readers and an independent drawing have them."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from psd_tools import PSDImage
from support.books_under_test import WIDE, Built, Case, built
from support.composition import grey, laid, paper, with_opacity
from support.independent_raster import Drawn, rectangular_layers
from support.long import long
from support.picture_readers import (
    PSD_TOOLS_LIMIT,
    Seen,
    by_bytes,
    by_imagemagick,
    by_openimageio,
    by_psd_tools,
    imagemagick_opens,
    merged_by_psd_tools,
    values,
)
from support.psd_walk import walk


@pytest.fixture(scope="module")
def layers(page: Built) -> dict[str, Seen]:
    """The layers that have pixels, by name, the lowest first, as the file's bytes have them."""
    return {layer.name: layer for layer in by_bytes(page.layered)}


@pytest.fixture(scope="module")
def merged(page: Built) -> np.ndarray:
    """The merged image, as the bytes of the file have it."""
    planes = [b"".join(rows) for rows in walk(page.layered.read_bytes()).merged]
    planes = planes * 3 if page.case.grey else planes
    shape = page.size[::-1]
    return np.stack([np.frombuffer(plane, np.uint8).reshape(shape) for plane in planes], axis=2)


@pytest.fixture(scope="module")
def opened(page: Built) -> list[Seen]:
    """The merged image and the layers as ImageMagick reads them."""
    imagemagick_opens(page.size)
    return by_imagemagick(page.layered)


@pytest.fixture(scope="module")
def opened_by_openimageio(page: Built, tmp_path_factory: pytest.TempPathFactory) -> list[Seen]:
    """The merged image and the layers as OpenImageIO reads them."""
    return by_openimageio(page.layered, tmp_path_factory.mktemp("pictures"))


def psd_tools_opens(page: Built) -> None:
    """Skip what psd-tools will not turn into pictures."""
    if max(page.size) > PSD_TOOLS_LIMIT:
        pytest.skip("psd-tools makes no picture so tall")


def painted(page: Built, drawn: Drawn) -> np.ndarray:
    """The independent drawing as pixels: its colour where it covers the canvas, else nothing."""
    colour = [grey(drawn.colour)] * 3 if page.case.grey else drawn.colour
    pixels = np.zeros((*drawn.cover.shape, 4), np.uint8)
    pixels[drawn.cover > 0] = (*colour, 255)
    return pixels


def clear_alike(pixels: np.ndarray) -> np.ndarray:
    """The pixels with those that nobody sees in one colour."""
    return np.where(pixels[..., 3:] > 0, pixels, 0)


def test_rectangular_layers(page: Built, layers: dict[str, Seen]) -> None:
    """Trim, bleed, safe area, gutters, borders, covers: every pixel is where the boxes say."""
    for name, drawn in rectangular_layers(page).items():
        seen = layers.get(name)  # a layer may have nothing to show, as borders on a splash
        pixels = seen.on(page.size) if seen else np.zeros((*drawn.cover.shape, 4), np.uint8)
        assert (clear_alike(pixels) == painted(page, drawn)).all(), name


def test_heavier_lines(tmp_path: Path) -> None:
    """A page 3000 pixels wide has guides of four pixels, where the boxes say."""
    page = built(Case(WIDE, dpi=300), tmp_path)
    drawn = rectangular_layers(page)
    for layer in PSDImage.open(page.layered).descendants():
        if layer.name in ("Trim", "Bleed", "Safe area"):
            cover = np.zeros(page.size[::-1], np.uint8)
            here = (slice(layer.top, layer.bottom), slice(layer.left, layer.right))
            cover[here] = values(layer, "shape")[..., 0] * 255
            assert (cover == drawn.pop(layer.name).cover).all(), layer.name
    assert {"Trim", "Bleed", "Safe area"}.isdisjoint(drawn)


def test_every_layer_by_psd_tools(page: Built, layers: dict[str, Seen]) -> None:
    """psd-tools sees the same layers with the same place, opacity, visibility and pixels."""
    psd_tools_opens(page)
    for ours, theirs in zip(layers.values(), by_psd_tools(page.layered), strict=True):
        assert theirs[:2] + theirs[3:] == ours[:2] + ours[3:]
        assert np.array_equal(theirs.pixels, ours.pixels), ours.name


def test_every_layer_by_imagemagick(layers: dict[str, Seen], opened: list[Seen]) -> None:
    """ImageMagick sees each layer in the same place with the same pixels, opacity applied."""
    for ours, theirs in zip(layers.values(), opened[1:], strict=True):
        assert theirs[:2] == ours[:2], ours.name
        assert np.array_equal(theirs.pixels[..., :3], ours.pixels[..., :3]), ours.name
        alpha = with_opacity(ours.pixels, ours.opacity)[..., 3].astype(int)
        # this reader rounds the product of two values below 255 in its own way
        partly = ours.opacity < 255 and not {*np.unique(ours.pixels[..., 3])} <= {0, 255}
        assert np.abs(theirs.pixels[..., 3] - alpha).max() <= partly, ours.name


@long
def test_every_layer_by_openimageio(
    page: Built, layers: dict[str, Seen], opened_by_openimageio: list[Seen]
) -> None:
    """OpenImageIO sees each layer in the same place with the same name and pixels."""
    if page.case.grey:
        pytest.skip("OpenImageIO 2.4 sees four channels in the layers of grey files")
    compared = 0
    for ours, theirs in zip(layers.values(), opened_by_openimageio[1:], strict=True):
        compared += int(np.count_nonzero(ours.pixels[..., 3] == 255))
        assert (theirs.name, *theirs[:2]) == (ours.name, *ours[:2])
        assert np.array_equal(theirs.pixels[..., 3], ours.pixels[..., 3]), ours.name
        opaque = ours.pixels[..., 3] == 255
        assert np.array_equal(theirs.pixels[opaque], ours.pixels[opaque]), ours.name
    assert compared > page.size[0] * page.size[1]  # the sheet, and some guide at least


def test_merged_image_is_the_layers(
    page: Built, layers: dict[str, Seen], merged: np.ndarray
) -> None:
    """The merged image is what the visible layers of the file give, laid on each other."""
    shown = [layer for layer in layers.values() if layer.visible]
    assert len(shown) < len(layers)
    planes = (with_opacity(layer.on(page.size), layer.opacity) for layer in shown)
    composed = laid(paper(page.size, 0, 0, 0, 0), planes)
    assert (composed[..., 3] == 255).all()
    wrong = (composed[..., :3] != merged).any(axis=2)
    assert not wrong.any(), f"{composed[wrong][0, :3]} is stored as {merged[wrong][0]}"


def test_merged_image_by_pillow(page: Built, merged: np.ndarray) -> None:
    """Pillow, which opens the merged image, sees the same mode and pixels."""
    if page.case.suffix == "psb":
        pytest.skip("Pillow opens PSD only")
    picture = Image.open(page.layered)
    assert picture.mode == ("L" if page.case.grey else "RGB")
    assert np.array_equal(np.asarray(picture.convert("RGB")), merged)


def test_merged_image_by_psd_tools(page: Built, merged: np.ndarray) -> None:
    """psd-tools sees the same merged image."""
    psd_tools_opens(page)
    picture = merged_by_psd_tools(PSDImage.open(page.layered))
    assert np.array_equal(np.asarray(picture.convert("RGB")), merged)


def test_merged_image_by_imagemagick(opened: list[Seen], merged: np.ndarray) -> None:
    """ImageMagick sees the same merged image, opaque."""
    assert np.array_equal(opened[0].pixels[..., :3], merged)
    assert (opened[0].pixels[..., 3] == 255).all()


@long
def test_merged_image_by_openimageio(opened_by_openimageio: list[Seen], merged: np.ndarray) -> None:
    """OpenImageIO sees the same merged image."""
    pixels = opened_by_openimageio[0].pixels
    assert np.array_equal(np.broadcast_to(np.atleast_3d(pixels), merged.shape), merged)
