"""New guides go into OpenRaster files that are drawn on, and not a stroke is touched."""

import io
import zipfile
from pathlib import Path
from xml.etree import ElementTree as ET

import numpy as np
import pytest
from PIL import Image
from support.drawn_ora import (
    NAME,
    art,
    change,
    fresh,
    layers_of,
    looks,
)
from support.drawn_psd import refreshed
from support.reference import reference
from support.samples import DPI, FOUR_PAGES, WIDER, contents, issue_file

from guidekit import build_issue
from guidekit.drawn.refreshing.refresh import undo_refresh
from guidekit.drawn.standing.status import status_issue


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """The folder of a build whose second page is drawn on."""
    folder = tmp_path / "out"
    build_issue(issue_file(tmp_path), folder, formats=["ora"], dpi=DPI)
    change(folder / NAME, "Inks", {"data/brushes.json": b"{}"})
    return folder


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


@pytest.mark.parametrize("mode", ["RGBA", "RGB", "LA", "P"])
def test_layers_beyond_the_canvas(out: Path, mode: str) -> None:
    """Layers that reach over each edge, or lie beside the page, are merged."""
    with zipfile.ZipFile(out / NAME) as file:
        image = ET.fromstring(file.read("stack.xml"))
    width, height = int(image.get("w", "")), int(image.get("h", ""))
    places = [(-9, -21), (width - 30, 5), (11, height - 18), (-70, 3), (3, -90), (width, 0), (7, 7)]
    data: dict[str, bytes] = {}
    for number, (x, y) in enumerate(places):
        picture = Image.effect_noise((61, 83), 90).convert("RGBA")
        picture.putalpha(picture.getchannel("R").point(lambda value: value if value > 99 else 0))
        said = {"name": f"Art {number}", "src": f"data/art{number}.png", "x": str(x), "y": str(y)}
        image[0].insert(0, ET.Element("layer", said))
        saved = io.BytesIO()
        picture.convert(mode).save(saved, "PNG")
        data[said["src"]] = saved.getvalue()
    change(out / NAME, "", {"stack.xml": ET.tostring(image), **data})
    test_the_merged_image(out)


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
