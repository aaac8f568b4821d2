"""An OpenRaster page that is drawn on, taken apart and saved again as other programs do."""

import io
import zipfile
from pathlib import Path
from xml.etree import ElementTree as ET

import numpy as np
from PIL import Image

from guidekit import build_issue
from support.samples import DPI, issue_file

NAME = "salt-road-02-p002.ora"
OURS = ("Panel borders", "Paper", "Sheet")
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


def fresh(out: Path, name: str, text: str, dpi: int | None = DPI) -> Layers:
    """The page as a build of today writes it."""
    folder = out.parent / "fresh"
    build_issue(issue_file(out.parent, text, "fresh.toml"), folder, formats=["ora"], dpi=dpi)
    return layers_of(folder / name)


def drawn_ora(place: Path) -> Path:
    """The folder of a build whose second page is drawn on."""
    folder = place / "out"
    build_issue(issue_file(place), folder, formats=["ora"], dpi=DPI)
    change(folder / NAME, "Inks", {"data/brushes.json": b"{}"})
    return folder
