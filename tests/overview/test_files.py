"""Files written anew only where nobody changed them; small pictures of what is drawn."""

import zipfile
from io import BytesIO
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from support.archives import damaged, encrypted
from support.laid_out_pages import issue
from support.samples import issue_file, run_here

from guidekit import InputError, build_issue
from guidekit.overview.make import looked_over, overview_bytes
from guidekit.overview.own import is_own, write_own
from guidekit.overview.thumbnails import MOST_BYTES, thumbnail_of
from guidekit.plane.box import Box

PAGES: list[dict[str, Any]] = [{"tiers": [2, 1], "count": 3}]
CANVAS = Box(0, 0, 640, 840)


@pytest.mark.parametrize("ending", [".html", ".png", ".pdf"])
def test_written_anew_but_never_over_a_change(ending: str, tmp_path: Path) -> None:
    """A file as guidekit wrote it is replaced; one in which a byte differs is kept."""
    path = issue_file(tmp_path, issue(*PAGES))
    data, out = overview_bytes(path, ending), tmp_path / f"book{ending}"
    assert is_own(data)
    write_own(out, data)
    write_own(out, data)
    for at in (len(data) // 3, len(data) // 2):
        changed = data[:at] + bytes([data[at] ^ 1]) + data[at + 1 :]
        out.write_bytes(changed)
        with pytest.raises(InputError, match="not as guidekit wrote it"):
            write_own(out, data)
        assert out.read_bytes() == changed


def test_the_command(tmp_path: Path) -> None:
    """The command writes the file that it names, and shows characters where none is named."""
    path = issue_file(tmp_path, issue(*PAGES))
    done = run_here("overview", path, "--out", tmp_path / "book.html")
    assert (done.code, done.out) == (0, f"{tmp_path / 'book.html'}: written.\n")
    assert "┌" in run_here("overview", path).out
    refused = run_here("overview", path, "--canvases", tmp_path / "nowhere")
    assert (refused.code, "there is no such folder" in refused.err) == (2, True)


def picture(kind: str, size: tuple[int, int] = (640, 840)) -> bytes:
    """A picture, red on its left half and blue on its right."""
    from PIL import Image

    pixels = np.zeros((size[1], size[0], 3), np.uint8)
    pixels[:, : size[0] // 2, 0] = pixels[:, size[0] // 2 :, 2] = 255
    file = BytesIO()
    Image.fromarray(pixels).save(file, kind)
    return file.getvalue()


@pytest.mark.parametrize("kind", ["png", "ora", "tif", "large"])
def test_thumbnails(kind: str, tmp_path: Path) -> None:
    """A picture comes small, cut to what is seen of the page, whatever file it is in."""
    from PIL import Image

    path = tmp_path / f"page.{kind}"
    if kind == "ora":
        with zipfile.ZipFile(path, "w") as ora:
            ora.writestr("Thumbnails/thumbnail.png", picture("PNG", (195, 256)))
    else:
        size = (2560, 3360) if kind == "large" else (640, 840)
        path.write_bytes(picture("TIFF" if kind == "tif" else "PNG", size))
    data = thumbnail_of(path, CANVAS, Box(320, 0, 640, 840))  # the right half
    assert data
    assert len(data) <= MOST_BYTES
    small = Image.open(BytesIO(data)).convert("RGB")
    assert small.width / small.height == pytest.approx(320 / 840, rel=0.03)
    assert np.asarray(small).mean(axis=(0, 1)) == pytest.approx([0, 0, 255], abs=6)


@pytest.mark.parametrize(
    "data", [b"", b"8BPS", b"PK\3\4", b"\x89PNG\r\n\x1a\n", b"8BPS\0\1" + bytes(60)]
)
def test_broken_files_have_no_thumbnail(data: bytes, tmp_path: Path) -> None:
    """What no picture can be read from gives none, and stops nothing."""
    path = tmp_path / "page.psd"
    path.write_bytes(data)
    assert thumbnail_of(path, CANVAS, CANVAS) is None
    assert thumbnail_of(tmp_path, CANVAS, CANVAS) is None


def test_broken_archives_have_no_thumbnail(tmp_path: Path) -> None:
    """From an archive that is encrypted nothing is read, and none stops anything."""
    path = tmp_path / "page.ora"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as ora:
        ora.writestr("Thumbnails/thumbnail.png", picture("PNG", (195, 256)))
    whole = path.read_bytes()
    assert thumbnail_of(path, CANVAS, CANVAS)
    path.write_bytes(encrypted(whole))
    assert thumbnail_of(path, CANVAS, CANVAS) is None
    found = set()
    for data in damaged(whole, 200):
        path.write_bytes(data)
        found.add(thumbnail_of(path, CANVAS, CANVAS) is None)
    assert found == {True, False}, "damage is seen, or lies where nothing is read"


def test_no_program_is_started(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """PostScript under the name of a picture is not handed to the program that would run it."""
    from PIL import EpsImagePlugin

    run: list[object] = []
    monkeypatch.setattr(EpsImagePlugin, "Ghostscript", lambda *given, **named: run.append(given))
    path = tmp_path / "page.png"
    path.write_bytes(b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n%%EndComments\n")
    assert thumbnail_of(path, CANVAS, CANVAS) is None
    assert run == []


def test_noise_stays_small(tmp_path: Path) -> None:
    """Even what no JPEG makes small stays below the limit."""
    from PIL import Image

    noise = np.random.default_rng(1).integers(0, 256, (840, 640, 3), np.uint8)
    Image.fromarray(noise).save(tmp_path / "page.png")
    data = thumbnail_of(tmp_path / "page.png", CANVAS, CANVAS)
    assert data
    assert len(data) <= MOST_BYTES


def test_states_and_drawings(tmp_path: Path) -> None:
    """A page that was drawn on shows its picture and says so; others are as they were written."""
    path = issue_file(tmp_path, issue(*PAGES))
    build_issue(path)
    (tmp_path / "tests" / "tests-p001.psd").unlink()
    drawn = tmp_path / "tests" / "tests-p002.psd"
    drawn.write_bytes(drawn.read_bytes() + b"\0")
    views = [view for opening in looked_over(path).openings for view in opening.views]
    assert [view.state for view in views] == ["no file", "drawn", "not drawn yet"]
    assert [bool(view.thumbnail) for view in views] == [False, True, False]
    html = overview_bytes(path, ".html").decode()
    assert html.count("data:image/jpeg;base64,") == 1
    plain = overview_bytes(path, ".png", folder=tmp_path / "tests")
    assert is_own(plain)
    assert b"/DCTDecode" in overview_bytes(path, ".pdf")
