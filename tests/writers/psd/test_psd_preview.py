"""What file browsers and catalogues read of a layered file: its thumbnail and its XMP."""

import json
import re
import struct
from collections.abc import Callable
from hashlib import sha256
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from PIL import Image
from psd_tools import PSDImage
from support.books_under_test import CASES, COMIC, Built, Case, built
from support.long import shortened
from support.picture_readers import merged_by_psd_tools
from support.programs import output
from support.psd_walk import Walked, walk

THUMBNAIL, XMP = 1036, 1060  # Public PSD file format specification, "Image Resource IDs"
LONGEST = 160
FEW = {name: CASES[name] for name in ("right page", "spread", "grey manuscript", "scroll")} | {
    "16 bit": Case(COMIC.replace("[[pages]]", "format.depth = 16\n[[pages]]", 1), dpi=60),
    "tiny": Case(
        COMIC.replace(
            "[[pages]]",
            'format = { trim = { width = "90 px", height = "120 px" }, bleed = "4 px", '
            'safe_area = "9 px", gutter = "4 px", border = "1 px" }\n[[pages]]',
            1,
        )
    ),
}


@pytest.fixture(
    scope="module", params=shortened(FEW, ("spread", "grey manuscript", "16 bit", "tiny"))
)
def page(request: pytest.FixtureRequest, canvas: Callable[[Case], Built]) -> Built:
    """Each of the canvases in turn."""
    return canvas(FEW[request.param])


def test_fields(walked: Walked, page: Built) -> None:
    """By "Thumbnail resource format": each of the eight fields is what the picture is."""
    data = walked.resources[THUMBNAIL]
    form, width, height, row, total, packed, bits, planes = struct.unpack(">IIIIIIHH", data[:28])
    assert form == 1  # kJpegRGB
    assert (bits, planes) == (24, 1)
    assert row == (width * bits + 31) // 32 * 4
    assert total == row * height * planes
    assert packed == len(data) - 28
    longest = max(page.size)
    assert max(width, height) == min(longest, LONGEST)
    for small, large in zip((width, height), page.size, strict=True):
        assert abs(small - large * min(1, LONGEST / longest)) <= 0.5 or small == 1


def jpeg(walked: Walked) -> Image.Image:
    """The picture in the thumbnail, as Pillow reads it."""
    return Image.open(BytesIO(walked.resources[THUMBNAIL][28:]))


def test_jfif(walked: Walked) -> None:
    """The picture is a JFIF file (ITU-T T.871): start of image, application segment 0, "JFIF"."""
    data = walked.resources[THUMBNAIL][28:]
    assert data[:4] == b"\xff\xd8\xff\xe0"
    assert data[6:11] == b"JFIF\0"
    assert data[-2:] == b"\xff\xd9"
    picture = jpeg(walked)
    assert (picture.format, picture.mode) == ("JPEG", "RGB")
    assert picture.size == struct.unpack(">II", walked.resources[THUMBNAIL][4:12])


def test_looks_like_the_page(walked: Walked, page: Built) -> None:
    """The thumbnail is near to what Pillow makes of the merged image: reduced, packed as JPEG.

    Pillow counts a pixel that is cut by an edge whole or not at all, so thin lines differ a little.
    """
    picture = jpeg(walked)
    whole = merged_by_psd_tools(PSDImage.open(page.layered)).convert("RGB")
    whole = whole.resize(picture.size, Image.Resampling.BOX)
    packed = BytesIO()
    whole.save(packed, "JPEG", quality=85)
    wanted, found = (np.asarray(x, float) for x in (Image.open(packed), picture))
    assert np.abs(found.mean(axis=(0, 1)) - wanted.mean(axis=(0, 1))).max() < 0.5
    assert np.abs(found - wanted).mean() < 4
    assert np.corrcoef(found.ravel(), wanted.ravel())[0, 1] > 0.95


def test_thumbnail_by_psd_tools(walked: Walked, page: Built) -> None:
    """psd-tools finds a thumbnail, and it is that picture."""
    opened = PSDImage.open(page.layered)
    assert opened.has_thumbnail()
    assert np.array_equal(np.asarray(opened.thumbnail()), np.asarray(jpeg(walked)))


def test_thumbnail_by_openimageio(
    walked: Walked, page: Built, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """OpenImageIO finds a thumbnail of the same size in three channels."""
    # under a short name, with which it never waits for itself; see picture_readers
    (tmp_path / "page.psd").write_bytes(page.layered.read_bytes())
    monkeypatch.chdir(tmp_path)
    told = output("oiiotool", "--info", "-v", "page.psd").decode()
    found = {key: int(re.findall(rf"thumbnail_{key}: (\d+)", told)[0]) for key in SIZES}
    assert (found["width"], found["height"]) == jpeg(walked).size
    assert found["nchannels"] == 3


SIZES = ("width", "height", "nchannels")


def described(path: Path) -> dict[str, Any]:
    """The JSON in the XMP of a file."""
    text = walk(path.read_bytes()).resources[XMP].decode()
    (data,) = re.findall(r"\n({.*})</rdf:li>", text)
    found: dict[str, Any] = json.loads(data)
    return found


#: All that a preset must say, and nothing else.
HOUSE = """title = "House"
dpi = 100
trim = { width = "300 px", height = "400 px" }
bleed = "10 px"
safe_area = "20 px"
gutter = "8 px"
border = "2 px"
drawing = ["Inks"]
"""


def digest(folder: Path, preset: str, issue: str = "") -> str:
    """What the XMP gives as the SHA-256 of the preset."""
    folder.mkdir()
    (folder / "house.toml").write_text(preset, "utf-8")
    toml = f'title = "T"\npreset = "house.toml"\n{issue}[[pages]]\ntiers = [1]\n'
    found: str = described(built(Case(toml, dpi=None), folder).layered)["preset_sha256"]
    assert re.fullmatch("[0-9a-f]{64}", found)
    return found


def test_preset_sha256(tmp_path: Path) -> None:
    """The digest tells formats apart: the same values in other words or order give the same one."""
    plain = digest(tmp_path / "a", HOUSE)
    assert digest(tmp_path / "b", "# words\n" + "\n".join(sorted(HOUSE.splitlines()))) == plain
    assert digest(tmp_path / "c", HOUSE.replace("8 px", "9 px")) != plain
    assert plain != sha256(b"").hexdigest()


def test_preset_sha256_of_what_was_built(tmp_path: Path) -> None:
    """An issue that changes a value of its preset has not the digest of the preset alone."""
    plain = digest(tmp_path / "a", HOUSE)
    assert digest(tmp_path / "b", HOUSE, 'format.gutter = "9 px"\n') != plain
