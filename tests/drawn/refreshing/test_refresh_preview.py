"""The merged image of a refreshed page is what its layers show, or says that it is not."""

import re
import shutil
import struct
from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from PIL import Image
from psd_tools import PSDImage
from psd_tools.constants import BlendMode, Resource, Tag
from support.long import shortened
from support.painting import Page
from support.samples import DPI, FOUR_PAGES, NAMES, issue_file

from guidekit import build_issue
from guidekit.drawn.composing.small_picture import SmallPicture
from guidekit.drawn.psd.refreshed import ROOM
from guidekit.drawn.refreshing.refresh import refresh_issue
from guidekit.writers.psd.resources import packed_picture

FILES = Path(__file__).parents[1] / "files"
DRAWN = NAMES[1]
MODES = {
    "normal": BlendMode.NORMAL, "multiply": BlendMode.MULTIPLY, "screen": BlendMode.SCREEN,
    "overlay": BlendMode.OVERLAY, "hard light": BlendMode.HARD_LIGHT, "darken": BlendMode.DARKEN,
    "lighten": BlendMode.LIGHTEN, "difference": BlendMode.DIFFERENCE,
}  # fmt: skip


def with_gutter(width: str) -> str:
    """The issue with gutters of this width and masked groups for each panel."""
    head = 'preset = "us-comic"'
    groups = 'format.panel_groups = ["Colours"]'
    return FOUR_PAGES.replace(head, f'{head}\n{groups}\nformat.gutter = "{width}"')


def drawn(out: Path, blend: BlendMode = BlendMode.NORMAL, depth: int = 8) -> None:
    """A page with several painted layers, one of them in a masked group and one clipped."""
    deep = f"format.depth = {depth}\n[[pages]]"
    issue = issue_file(out.parent, with_gutter("0.2 in").replace("[[pages]]", deep, 1))
    build_issue(issue, out, dpi=DPI, pages=[2])
    page = Page.open(out / DRAWN)
    for seed, name in enumerate(("Inks", "Pencils", "Colours 1", "Colours 4")):
        page.paint(page.place(name), seed)
    page.new_layer("Shade", 11, page.place("Inks"))
    page.entries[page.place("Shade")][0].blend_mode = blend
    page.entries[page.place("Shade")][0].opacity = 200
    page.save(out / DRAWN)


def stored(path: Path) -> np.ndarray:
    """The merged image as it stands in the file, by psd-tools, from 0 to 1."""
    return np.asarray(PSDImage.open(path).numpy())[..., :3]


def shown(path: Path) -> np.ndarray:
    """What psd-tools makes of the layers, from 0 to 1."""
    return np.asarray(PSDImage.open(path).composite(force=True).convert("RGB")) / 255


def small(path: Path) -> np.ndarray:
    """The small picture in the file, by psd-tools, from 0 to 1."""
    picture = PSDImage.open(path).thumbnail()
    assert picture is not None
    return np.asarray(picture.convert("RGB")) / 255


def is_real(path: Path) -> bool:
    """Whether the file says that its merged image shows its layers: resource 1057."""
    data = PSDImage.open(path).image_resources[Resource.VERSION_INFO].data
    return bool(data[4]) if isinstance(data, bytes) else bool(data.has_composite)


@pytest.mark.parametrize("blend", shortened(MODES, ["normal", "multiply", "overlay"]))
def test_made_from_the_layers(tmp_path: Path, blend: str) -> None:
    """Of a page whose preview is an old one all is made anew, of another one what differs.

    The last one has another bleed.

    Compared with psd-tools; it rounds in its own way.
    """
    out = tmp_path / "out"
    drawn(out, MODES[blend])
    for gutter, bleed in (("0.3 in", "1/8 in"), ("0.25 in", "1/8 in"), ("0.25 in", "1/4 in")):
        text = with_gutter(gutter).replace("[[pages]]", f'format.bleed = "{bleed}"\n[[pages]]', 1)
        (file,) = refresh_issue(issue_file(tmp_path, text), out, dpi=DPI).named("refreshed")
        assert file.notes == ()
        assert is_real(out / DRAWN)
        assert np.abs(stored(out / DRAWN) - shown(out / DRAWN)).max() * 255 <= 2.01


@pytest.mark.parametrize("depth", [8, 16])
def test_small_picture(tmp_path: Path, depth: int) -> None:
    """The small picture shows what the large one does, as Pillow makes that smaller."""
    out = tmp_path / "out"
    drawn(out, depth=depth)
    deep = f"format.depth = {depth}\n[[pages]]"
    for gutter in ("0.3 in", "0.2 in"):  # all of it is made anew, then what differs
        text = with_gutter(gutter).replace("[[pages]]", deep, 1)
        refresh_issue(issue_file(tmp_path, text), out, dpi=DPI)
        height, width, _ = small(out / DRAWN).shape
        large = Image.fromarray((stored(out / DRAWN) * 255).astype(np.uint8))
        shrunk = np.asarray(large.resize((width, height), Image.Resampling.BOX)) / 255
        assert max(width, height) == 160
        assert np.abs(small(out / DRAWN) - shrunk).mean() < 0.03  # it is a JPEG


def test_two_small_pictures(tmp_path: Path) -> None:
    """A file that has a second small picture, an old one, gets the new one in place of both."""
    out = tmp_path / "out"
    drawn(out)
    data = (out / DRAWN).read_bytes()
    begin = 26 + 4  # "File header section"; "Color mode data section" of a file in RGB, its length
    (size,) = struct.unpack_from(">I", data, begin)
    second = struct.pack(">4sHHI", b"8BIM", 1036, 0, 28) + bytes(28)
    end = begin + 4 + size
    size_now = struct.pack(">I", size + len(second))
    (out / DRAWN).write_bytes(data[:begin] + size_now + data[begin + 4 : end] + second + data[end:])
    refresh_issue(issue_file(tmp_path, with_gutter("0.3 in")), out, dpi=DPI)
    data = (out / DRAWN).read_bytes()
    heads = [found.start() for found in re.finditer(rb"8BIM\x04\x0c\0\0", data)]  # 1036
    first, other = (data[at : at + 12 + ROOM] for at in heads)
    assert first == other
    assert small(out / DRAWN).any()  # of two resources psd-tools has the last


@pytest.mark.parametrize("size", [(1, 1), (160, 101), (160, 160)])
def test_room_of_the_small_picture(size: tuple[int, int]) -> None:
    """Its data are of one size, even of black and white noise, and a JPEG that Pillow reads."""
    noise = np.random.default_rng(4).integers(0, 2, (*size, 3), np.uint8) * np.uint8(255)
    for pixels in (noise, noise * 0):
        data = packed_picture(pixels, ROOM)
        jpeg = data[28:]  # "Thumbnail resource format"
        assert (len(data), len(jpeg)) == (ROOM, int.from_bytes(data[20:24], "big"))
        assert Image.open(BytesIO(jpeg)).size == size[::-1]


def test_edge_of_the_small_picture() -> None:
    """Its last rows are as bright as the page, also where one row of pixels is left over."""
    edge, height = 9, 9 * 355 + 1
    picture = SmallPicture(20, height, 1, 160)
    for top in range(0, height, 16):
        picture.add(0, top, np.full((min(16, height - top), 20), 255, np.uint8))
    assert picture.edge == edge
    assert np.asarray(picture.image).min() == 255


def test_of_16_bits(tmp_path: Path) -> None:
    """The same with 16 bits a channel."""
    out = tmp_path / "out"
    drawn(out, depth=16)
    text = with_gutter("0.3 in").replace("[[pages]]", "format.depth = 16\n[[pages]]", 1)
    refresh_issue(issue_file(tmp_path, text), out, dpi=DPI)
    assert np.abs(stored(out / DRAWN) - shown(out / DRAWN)).max() * 255 <= 2.01


def test_what_differs_is_like_all(tmp_path: Path) -> None:
    """Where only what differs is made anew, the image is that which is made anew all over."""
    out = tmp_path / "out"
    drawn(out)
    refresh_issue(issue_file(tmp_path, with_gutter("0.3 in")), out, dpi=DPI)
    stale = tmp_path / "stale"
    shutil.copytree(out, stale)
    page = Page.open(stale / DRAWN)
    header = page.psd.header
    white = [bytes([255]) * header.width * header.height] * header.channels
    page.psd.image_data.set_data(white, header)
    page.save(stale / DRAWN)
    issue = issue_file(tmp_path, with_gutter("0.15 in"))
    for folder in (out, stale):
        refresh_issue(issue, folder, dpi=DPI)
    assert np.abs(stored(out / DRAWN) - stored(stale / DRAWN)).max() * 255 <= 2.01


def test_of_an_editor(tmp_path: Path) -> None:
    """The preview of a page that a raster editor saved is known to be true, and made anew."""
    out, name = tmp_path / "out", "masked-11-p001.psd"
    out.mkdir()
    shutil.copy(FILES / f"painted-{name}", out / name)
    text = (
        (FILES / "masked.toml")
        .read_text("utf-8")
        .replace("[format]", '[format]\ngutter = "0.1 in"')
    )
    refresh_issue(issue_file(tmp_path, text), out)
    assert is_real(out / name)
    assert np.abs(stored(out / name) - shown(out / name)).max() * 255 <= 2.01


@pytest.mark.parametrize("what", ["soft light", "fill opacity"])
def test_not_to_be_told(tmp_path: Path, what: str) -> None:
    """Where programs differ the old preview stays, the file says so, and the page is named."""
    out = tmp_path / "out"
    drawn(out, BlendMode.SOFT_LIGHT if what == "soft light" else BlendMode.NORMAL)
    page = Page.open(out / DRAWN)
    if what == "fill opacity":
        record = page.entries[page.place("Shade")][0]
        record.tagged_blocks.set_data(Tag.BLEND_FILL_OPACITY, 100)
    page.save(out / DRAWN)
    before = stored(out / DRAWN)
    (file,) = refresh_issue(issue_file(tmp_path, with_gutter("0.3 in")), out, dpi=DPI).files
    assert file.notes == (
        "the preview in the file is the old one, and is marked so, for of Shade nobody can say "
        "exactly how it looks",
    )
    assert not is_real(out / DRAWN)
    assert (stored(out / DRAWN) == before).all()
