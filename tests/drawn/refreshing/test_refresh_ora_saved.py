"""OpenRaster files that other programs saved, enlarged or damaged."""

import io
import shutil
import warnings
import zipfile
import zlib
from pathlib import Path
from xml.etree import ElementTree as ET

import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo
from support.archives import damaged, encrypted
from support.drawn_ora import (
    NAME,
    art,
    change,
    drawn_ora,
    fresh,
    layers_of,
    looks,
)
from support.drawn_psd import refreshed
from support.long import in_ci
from support.samples import DPI, FOUR_PAGES, WIDER, issue_file, run_here

from guidekit import build_issue
from guidekit.drawn.refreshing.refresh import refresh_issue
from guidekit.drawn.standing.own_words import own_info
from guidekit.drawn.standing.status import status_issue
from guidekit.writers.png.encode import SIGNATURE, chunk, header

FILES = Path(__file__).parents[1] / "files"
ONE_PIXEL = SIGNATURE + header(1, 1, 8, 6)
#: Pixels that end too soon, more of them than anywhere, and a filter type that there is not (PNG,
#: third edition, 9.2).
TOO_FEW = ONE_PIXEL + chunk(b"IDAT", zlib.compress(bytes(4))) + chunk(b"IEND", b"")
TOO_WIDE = SIGNATURE + header(2**31 - 1, 1, 8, 6)
NO_FILTER = ONE_PIXEL + chunk(b"IDAT", zlib.compress(bytes([5, 1, 1, 1, 1])))


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """The folder of a build whose second page is drawn on."""
    return drawn_ora(tmp_path)


def test_a_large_page_tells_of_itself(out: Path) -> None:
    """A page larger than what Pillow takes for an attack is read, and nothing is warned of."""
    told = own_info(out / NAME)
    with zipfile.ZipFile(out / NAME) as file:
        merged = Image.open(file.open("mergedimage.png"))
    words = PngInfo()
    words.add_text("Description", merged.info["Description"])
    for edge in (10_000, 14_000):
        saved = io.BytesIO()
        Image.new("1", (edge, edge)).save(saved, "PNG", pnginfo=words)
        change(out / NAME, "", {"mergedimage.png": saved.getvalue()})
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            assert own_info(out / NAME) == told is not None


def enlarged(path: Path, width: int, height: int) -> None:
    """Save a file as an app does that has made its canvas larger to the right and the bottom."""
    with zipfile.ZipFile(path) as file:
        root = ET.fromstring(file.read("stack.xml"))
    root.set("w", str(width))
    root.set("h", str(height))
    change(path, "", {"stack.xml": ET.tostring(root)})


def test_a_canvas_of_whole_tiles(out: Path) -> None:
    """A canvas of 206 × 315 px that a painter has enlarged to tiles of 64 px is known by that.

    One that was enlarged otherwise is left, for nobody knows what lies where.
    """
    drawn = art(layers_of(out / NAME))
    enlarged(out / NAME, 256, 320)
    assert refreshed(out).named("refreshed")
    assert art(layers_of(out / NAME)) == drawn
    assert looks(layers_of(out / NAME)) == looks(fresh(out, NAME, WIDER))
    enlarged(out / NAME, 257, 320)
    (file,) = refreshed(out, FOUR_PAGES).named("refused")
    assert "it has 257 × 320 px, and was written with" in file.why


def test_pages_that_a_painter_saved(tmp_path: Path) -> None:
    """A page of the first release, painted on in a painter: all that was painted stays."""
    out, name = tmp_path / "out", "masked-11-p001.ora"
    out.mkdir()
    shutil.copy(FILES / f"painted-{name}", out / name)
    text = (FILES / "masked.toml").read_text("utf-8")
    text = text.replace("[format]", '[format]\ngutter = "0.1 in"')
    before = layers_of(out / name)
    (file,) = refreshed(out, text, None).named("refreshed")
    after = layers_of(out / name)
    assert {key: after[key] for key in art(before)} == art(before)
    wanted, found = looks(fresh(out, name, text, None)), looks(after)
    guides = [("Trim",), ("Safe area",), ("Gutters",), ("Panel numbers",), ("Page label",)]
    assert {key: found[key] for key in guides} == {key: wanted[key] for key in guides}
    assert any(note.startswith("Panel borders was drawn on") for note in file.notes)


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", "this is no OpenRaster file"),
        (b"PK" + bytes(100), "this is no OpenRaster file"),
        ({"stack.xml": b"<image"}, "the file is damaged: its list of layers cannot be read"),
        ({"stack.xml": b"<image w='1' h='1'/>"}, "the file is damaged: it has no layers"),
        ({"data/layer000.png": b"no picture"}, "the file is damaged: the layer "),
        ({"data/layer000.png": TOO_FEW}, "the file is damaged: the layer "),
        ({"data/layer000.png": NO_FILTER}, "the file is damaged: the layer "),
        (
            {"data/layer000.png": SIGNATURE + header(2**31, 1, 8, 6)},
            "the file is damaged: the layer ",
        ),
    ],
)
def test_refused(out: Path, data: bytes | dict[str, bytes], told: str) -> None:
    """A file that cannot be worked on is left as it is, and the page is named with the reason."""
    if isinstance(data, bytes):
        (out / NAME).write_bytes(data)
    else:
        change(out / NAME, "", data)
    before = (out / NAME).read_bytes()
    run = run_here("refresh", issue_file(out.parent, WIDER), "--out", out, "--dpi", DPI)
    assert run.code == 1
    assert run.err.startswith(f"guidekit: {NAME}, page 2: {told}")
    assert (out / NAME).read_bytes() == before


def test_any_archive(tmp_path: Path) -> None:
    """Whatever is wrong with an archive, it is told by page or done, and stops nothing."""
    path, out = issue_file(tmp_path), tmp_path / "out"
    build_issue(path, out, formats=["ora"], dpi=DPI)
    whole = (out / NAME).read_bytes()
    for data in (encrypted(whole), *damaged(whole, in_ci(60, first=15))):
        (out / NAME).write_bytes(data)
        (state,) = [file for file in status_issue(path, out, dpi=DPI).files if file.name == NAME]
        assert state.state in ("empty", "drawn")
        (done,) = [file for file in refresh_issue(path, out, dpi=DPI).files if file.name == NAME]
        assert not state.changed or done.outcome == "refused"
        if done.outcome == "refused":
            assert done.why
            assert (out / NAME).read_bytes() == data
