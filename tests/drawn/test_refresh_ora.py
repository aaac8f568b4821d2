"""New guides go into OpenRaster files that are drawn on, and not a stroke is touched."""

import io
import shutil
import warnings
import zipfile
import zlib
from pathlib import Path
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from PIL import Image
from PIL.PngImagePlugin import PngInfo
from support.archives import damaged, encrypted
from support.long import in_ci
from support.reference import reference
from support.samples import DPI, FOUR_PAGES, contents, issue_file, run_here

from guidekit import build_issue
from guidekit.drawn.own_words import own_info
from guidekit.drawn.refresh import RefreshReport, refresh_issue, undo_refresh
from guidekit.drawn.status import status_issue
from guidekit.writers.png.encode import SIGNATURE, chunk, header

FILES = Path(__file__).parent / "files"
NAME = "salt-road-02-p002.ora"
WIDER = FOUR_PAGES.replace('preset = "us-comic"', 'preset = "us-comic"\nformat.gutter = "0.3 in"')
OURS = ("Panel borders", "Paper", "Sheet")
#: A picture with an empty profile behind its pixels (PNG, third edition, 11.3.2.3 and 5.6).
PROFILE_BEHIND = (
    SIGNATURE
    + header(1, 1, 8, 6)
    + chunk(b"IDAT", zlib.compress(bytes(5)))
    + chunk(b"iCCP", b"")
    + chunk(b"IEND", b"")
)
Layers = dict[tuple[str, ...], tuple[dict[str, str], bytes]]


def layers_of(path: Path) -> Layers:
    """What is said of each layer, and its PNG, under its names and those of its groups."""
    found: Layers = {}
    with zipfile.ZipFile(path) as file:
        assert file.testzip() is None
        assert file.infolist()[0].filename == "mimetype"

        def gather(stack: ET.Element, at: tuple[str, ...]) -> None:
            for element in stack:
                name = (*at, element.get("name", ""))
                if element.tag == "stack":
                    gather(element, name)
                else:
                    found[name] = dict(element.attrib), file.read(element.get("src", ""))

        gather(ET.fromstring(file.read("stack.xml"))[0], ())
    return found


def looks(layers: Layers) -> dict[tuple[str, ...], object]:
    """Where on the canvas each layer of ours has what; what is clear is left out."""
    found: dict[tuple[str, ...], object] = {}
    for name, (said, png) in layers.items():
        if name[0] == "Guides" or name[-1] in OURS:
            pixels = np.asarray(Image.open(io.BytesIO(png)).convert("RGBA")).copy()
            pixels[pixels[..., 3] == 0] = 0
            rows, columns = np.nonzero(pixels[..., 3])
            top, left = rows.min(), columns.min()
            cut = pixels[top : rows.max() + 1, left : columns.max() + 1]
            place = int(said["x"]) + left, int(said["y"]) + top
            found["Paper" if name[-1] == "Sheet" else name[-1],] = place, cut.tobytes()
    return found


def art(layers: Layers) -> dict[tuple[str, ...], object]:
    """All that is the artist's."""
    return {n: layer for n, layer in layers.items() if n[0] != "Guides" and n[-1] not in OURS}


def change(path: Path, name: str, new: dict[str, bytes]) -> None:
    """Save a file again as another program does: all packed anew, one layer painted."""
    with zipfile.ZipFile(path) as file:
        data = {info.filename: file.read(info) for info in file.infolist()}
    root = ET.fromstring(data["stack.xml"])
    for layer in root.iter("layer"):
        if layer.get("name") == name:
            picture = Image.effect_noise((60, 80), 90).convert("RGBA")
            picture.putalpha(picture.getchannel("R"))
            saved = io.BytesIO()
            picture.save(saved, "PNG")
            data[layer.get("src", "")] = saved.getvalue()
            layer.set("x", "70")
            layer.set("y", "40")
            layer.set("{urn:of-an-app}note", "mine")
    data["stack.xml"] = ET.tostring(root)
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as file:
        for key, value in (data | new).items():
            file.writestr(key, value)


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """The folder of a build whose second page is drawn on."""
    folder = tmp_path / "out"
    build_issue(issue_file(tmp_path), folder, formats=["ora"], dpi=DPI)
    change(folder / NAME, "Inks", {"data/brushes.json": b"{}"})
    return folder


def refreshed(out: Path, text: str = WIDER, dpi: int | None = DPI) -> RefreshReport:
    """A refresh for an issue of this text."""
    return refresh_issue(issue_file(out.parent, text), out, dpi=dpi)


def fresh(out: Path, name: str, text: str, dpi: int | None = DPI) -> Layers:
    """The page as a build of today writes it."""
    folder = out.parent / "fresh"
    build_issue(issue_file(out.parent, text, "fresh.toml"), folder, formats=["ora"], dpi=dpi)
    return layers_of(folder / name)


def test_new_gutters(out: Path) -> None:
    """Guides are those of a fresh build; layers, what is said of them and other files stay."""
    before = layers_of(out / NAME)
    (file,) = refreshed(out).named("refreshed")
    after = layers_of(out / NAME)
    assert (file.changed, file.notes) == (("gutters 6 → 9 px", "all panels"), ())
    assert art(after) == art(before)
    assert looks(after) == looks(fresh(out, NAME, WIDER))
    with zipfile.ZipFile(out / NAME) as saved:
        assert saved.read("data/brushes.json") == b"{}"
    assert status_issue(out.parent / "issue.toml", out, dpi=DPI).counts == {"empty": 3, "drawn": 1}
    there = contents(out)
    assert refreshed(out).named("up to date")
    assert contents(out) == there


def test_the_merged_image(out: Path) -> None:
    """The merged image shows the layers, by another library; the thumbnail is small."""
    refreshed(out)
    project = reference("pyora").Project.load(str(out / NAME))
    rendered = np.asarray(project.get_image_data(use_original=False).convert("RGB")).astype(int)
    with zipfile.ZipFile(out / NAME) as file:
        merged = Image.open(file.open("mergedimage.png"))
        small = Image.open(file.open("Thumbnails/thumbnail.png"))
        assert max(small.size) <= 256
        apart = np.abs(np.asarray(merged.convert("RGB")).astype(int) - rendered)
    assert apart.max() <= 3


def test_an_old_preview_tells_of_today(out: Path) -> None:
    """Where the merged image stays the old one, its words are new: a second refresh does nothing.

    Soft light is a mode of which nobody can say how it looks. Its pixels stay, read by Pillow.
    """
    with zipfile.ZipFile(out / NAME) as file:
        stack = ET.fromstring(file.read("stack.xml"))
    (inks,) = (layer for layer in stack.iter("layer") if layer.get("name") == "Inks")
    inks.set("composite-op", "svg:soft-light")
    change(out / NAME, "", {"stack.xml": ET.tostring(stack)})
    before = merged_image(out / NAME)
    (file_,) = refreshed(out).named("refreshed")
    assert file_.notes == (
        "the preview in the file is the old one, for of Inks nobody can say exactly how it looks",
    )
    assert (merged_image(out / NAME) == before).all()
    there = contents(out)
    assert [one.notes for one in refreshed(out).named("up to date")] == [()]
    assert contents(out) == there


def merged_image(path: Path) -> np.ndarray:
    """The pixels of the merged image."""
    with zipfile.ZipFile(path) as file:
        return np.asarray(Image.open(file.open("mergedimage.png")).convert("RGB"))


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


def test_undo(out: Path) -> None:
    """The file that was is back."""
    drawn = (out / NAME).read_bytes()
    refreshed(out)
    assert undo_refresh(out.parent / "issue.toml", out).named("put back")
    assert (out / NAME).read_bytes() == drawn


def test_another_bleed(out: Path) -> None:
    """With another bleed the canvas grows at its edges, and layers go with the trim."""
    text = FOUR_PAGES.replace('preset = "us-comic"', 'preset = "us-comic"\nformat.bleed = "0.3 in"')
    refreshed(out, text)
    after = layers_of(out / NAME)
    assert looks(after) == looks(fresh(out, NAME, text))
    assert (after["Inks",][0]["x"], after["Inks",][0]["y"]) == ("76", "45")


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


def test_painted_guides(out: Path) -> None:
    """A guide that somebody drew on is kept beside the new ones, hidden, and told."""
    change(out / NAME, "Trim", {})
    before = layers_of(out / NAME)["Guides", "Trim"]
    (file,) = refreshed(out).named("refreshed")
    after = layers_of(out / NAME)
    assert after["Guides (old)", "Trim"] == before
    assert file.notes[0].endswith("for they are drawn on or not ours: Trim")


def test_guides_without_their_group(out: Path) -> None:
    """Guides that lie loose on top go with the group that they were in, also where none comes."""
    with zipfile.ZipFile(out / NAME) as file:
        image = ET.fromstring(file.read("stack.xml"))
    (guides,) = [x for x in image[0] if x.get("name") == "Guides"]
    place = [*image[0]].index(guides)
    image[0][place : place + 1] = [*guides]
    names = [layer.get("name", "").lower().replace(" ", "_") for layer in guides]
    change(out / NAME, "", {"stack.xml": ET.tostring(image)})
    before = layers_of(out / NAME)
    off = "".join(f'{name} = "off"\n' for name in names)
    (file_now,) = refreshed(out, f"{FOUR_PAGES}\n[guides]\n{off}").named("refreshed")
    assert file_now.notes == ()
    loose = {(layer.get("name", ""),) for layer in guides}
    assert layers_of(out / NAME) == {n: layer for n, layer in before.items() if n not in loose}


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
        ({"data/layer000.png": PROFILE_BEHIND}, "the file is damaged: the layer "),
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
        if done.outcome == "refused":
            assert done.why
            assert (out / NAME).read_bytes() == data
