"""Where a font for labels is looked for, and what is said of one that is not there."""

import errno
from pathlib import Path
from types import SimpleNamespace

import pytest
import uharfbuzz as hb
from support.fonts import collection, font_file

from guidekit import load_issue
from guidekit.errors import InputError, MachineError
from guidekit.raster.face import opened
from guidekit.raster.font import STANDARD, FontFile

ISSUE = """
title = "Tests"
preset = "{preset}"
label_font = "{font}"
[[pages]]
panels = "splash"
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder for an issue, on a system whose fonts lie in ``system/fonts``."""
    (tmp_path / "system" / "fonts" / "more").mkdir(parents=True)
    (tmp_path / "book").mkdir()
    monkeypatch.setattr("sys.platform", "linux")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "nothing"))
    monkeypatch.setenv("XDG_DATA_DIRS", str(tmp_path / "system"))
    return tmp_path


def found(folder: Path, font: str, preset: str = "us-comic") -> FontFile | None:
    """The font of an issue in ``book``."""
    path = folder / "book" / "issue.toml"
    path.write_text(ISSUE.format(font=font, preset=preset), "utf-8")
    return load_issue(path).font


def refused(folder: Path, font: str) -> str:
    """What is said of a font that cannot be taken."""
    with pytest.raises(InputError) as caught:
        found(folder, font)
    return str(caught.value)


def test_beside_the_issue(folder: Path) -> None:
    """A path from the issue's folder comes first."""
    own = font_file(folder / "book" / "own.ttf", "H")
    font_file(folder / "system" / "fonts" / "own.ttf", "H")
    assert found(folder, "own.ttf") == FontFile(str(own))


def test_beside_the_preset(folder: Path) -> None:
    """A font may lie beside the preset that the issue names, or the one that this is based on."""
    (folder / "book" / "house").mkdir()
    (folder / "book" / "house" / "wide.toml").write_text('based_on = "us-comic"\ndpi = 300\n')
    own = font_file(folder / "book" / "house" / "own.ttf", "H")
    assert found(folder, "own.ttf", "house/wide.toml") == FontFile(str(own))


@pytest.mark.parametrize("name", ["Wide.ttf", "wide.TTF", "Boxes Wide", "boxes wide"])
def test_on_the_system(folder: Path, name: str) -> None:
    """Among the system's fonts the name of a file or a family is enough, in any case."""
    own = font_file(folder / "system" / "fonts" / "more" / "wide.ttf", "H", family="Boxes Wide")
    assert found(folder, name) == FontFile(str(own))


def test_a_family_in_a_collection(folder: Path) -> None:
    """A family's name finds it inside a collection; a file's name takes the first font of it."""
    path = collection(folder / "system" / "fonts" / "two.ttc", ("H", "One", 700), ("H", "Two", 500))
    assert found(folder, "Two") == FontFile(str(path), 1)
    assert found(folder, "two.ttc") == FontFile(str(path), 0)


def test_nowhere(folder: Path) -> None:
    """A font that is not found is told with every place that was looked at."""
    told = refused(folder, "Boxes")
    start = 'issue.toml, line 4, label_font: there is no font "Boxes" in the issue\'s folder, '
    assert told.startswith(start)
    for place in ("nothing/fonts", "system/fonts"):
        assert str(folder / place) in told


@pytest.mark.parametrize("font", ["../own.ttf", "{folder}/own.ttf"])
def test_elsewhere(folder: Path, font: str) -> None:
    """A file outside these folders is not opened, whatever path leads to it."""
    font_file(folder / "own.ttf", "H")
    assert "there is no font" in refused(folder, font.format(folder=folder))


@pytest.mark.parametrize("data", [b"", b"no font", b"\0\1\0\0" + b"\xff" * 400])
def test_no_font(folder: Path, data: bytes) -> None:
    """A file that is no font is refused by the name that the issue gives it."""
    (folder / "book" / "own.ttf").write_bytes(data)
    told = refused(folder, "own.ttf")
    path = folder / "book" / "own.ttf"
    said = f"issue.toml, line 4, label_font: no letters can be drawn with {path}: "
    assert told.startswith(said)
    assert told.endswith(". Name a TrueType or OpenType font.")
    assert told.count("\n") == 0


def test_a_font_cut_short(folder: Path) -> None:
    """A font that ends before its outlines is refused."""
    path = font_file(folder / "book" / "own.ttf", "H")
    path.write_bytes(path.read_bytes()[:400])
    assert "no letters can be drawn with" in refused(folder, "own.ttf")


def test_a_font_that_may_not_be_read(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The machine is told to be at fault, and not the font."""
    font = FontFile(str(folder / "house.ttf"))

    def refused(path: Path) -> bytes:
        raise PermissionError(errno.EACCES, "Permission denied", str(path))

    monkeypatch.setattr(Path, "read_bytes", refused)
    with pytest.raises(MachineError, match=r"reading .*house\.ttf: Permission denied"):
        opened(font)


def test_no_memory_for_a_font(monkeypatch: pytest.MonkeyPatch) -> None:
    """A font that comes along is whole: if it cannot be opened, memory is short."""

    def no_memory(path: str) -> None:
        raise hb.HarfBuzzError("Failed to open: " + path)

    monkeypatch.setattr(hb, "Blob", SimpleNamespace(from_file_path=no_memory))
    with pytest.raises(MemoryError):
        opened(STANDARD[0])
