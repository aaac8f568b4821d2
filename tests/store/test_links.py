"""Links, pipes and folders that stand in the way: none is followed, none makes a build wait."""

import os
from pathlib import Path

import pytest
from support.samples import DPI, NAMES, contents, issue_file, run_here

from guidekit import build_issue
from guidekit.store import files

ART = b"many hours of drawing"
GUESSED = ".guidekit-00000000000000aa.part"


def build(folder: Path) -> tuple[Path, list[object]]:
    """The file that a build writes first, and its command line."""
    issue = issue_file(folder, name="issue.toml")
    (folder / "out").mkdir()
    return folder / "out" / NAMES[0], ["build", issue, "--out", folder / "out", "--dpi", DPI]


def new(folder: Path) -> tuple[Path, list[object]]:
    """The file that `new` writes, and its command line."""
    (folder / "harbour").mkdir()
    return folder / "harbour" / "harbour.toml", ["new", folder / "harbour"]


def layout(folder: Path) -> tuple[Path, list[object]]:
    """The file that `layouts show` writes, and its command line."""
    return folder / "six.png", ["layouts", "show", "six-grid", "--png", folder / "six.png"]


@pytest.mark.parametrize("kind", ["link", "pipe"])
@pytest.mark.parametrize("command", [build, new, layout])
def test_planted_at_the_temporary_name(tmp_path: Path, command: object, kind: str) -> None:
    """A link or a pipe at the temporary name that used to be known does not matter any more."""
    assert callable(command)
    path, arguments = command(tmp_path)
    target, planted = tmp_path / "target", path.with_name(f".{path.name}.guidekit-part")
    target.write_bytes(ART)
    if kind == "link":
        planted.symlink_to(target)
    else:
        os.mkfifo(planted)
    assert run_here(*arguments).code == 0
    assert path.is_file()
    assert target.read_bytes() == ART
    assert planted.is_symlink() or planted.is_fifo()


@pytest.mark.parametrize("kind", ["link", "pipe", "file", "folder"])
@pytest.mark.parametrize("command", [build, new, layout])
def test_guessed_temporary_name(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, command: object, kind: str
) -> None:
    """Even at a temporary name that somebody guessed nothing is followed, replaced or removed."""
    assert callable(command)
    monkeypatch.setattr(files, "part_of", lambda path: path.with_name(GUESSED))
    monkeypatch.setattr("guidekit.store.ledger.part_of", lambda path: path.with_name(GUESSED))
    path, arguments = command(tmp_path)
    target, planted = tmp_path / "target", path.with_name(GUESSED)
    target.write_bytes(ART)
    if kind == "link":
        planted.symlink_to(target)
    elif kind == "pipe":
        os.mkfifo(planted)
    elif kind == "file":
        planted.write_bytes(ART)
    else:
        planted.mkdir()
    run = run_here(*arguments)
    assert run.code == 1
    assert f"writing {path}: File exists. " in run.err
    assert target.read_bytes() == ART
    assert not path.exists()
    assert os.path.lexists(planted)
    assert kind != "file" or planted.read_bytes() == ART


@pytest.mark.parametrize("kind", ["pipe", "link to a pipe", "device", "circle"])
def test_no_file_in_place_of_a_page(tmp_path: Path, kind: str) -> None:
    """A pipe, a device or a circle of links in place of a page is kept, and nobody waits for it."""
    issue, out = issue_file(tmp_path), tmp_path / "out"
    out.mkdir()
    if kind == "pipe":
        os.mkfifo(out / NAMES[0])
    elif kind == "circle":
        (out / NAMES[0]).symlink_to(NAMES[0])
    else:
        os.mkfifo(tmp_path / "pipe")
        (out / NAMES[0]).symlink_to("/dev/zero" if kind == "device" else tmp_path / "pipe")
    report = build_issue(issue, out, dpi=DPI)
    assert report.named("kept") == NAMES[:1]
    assert report.named("written") == NAMES[1:]
    assert os.path.lexists(out / NAMES[0])
    assert not (out / NAMES[0]).is_file()


def test_linked_folder_of_layers(tmp_path: Path) -> None:
    """Where a page's folder of layers is a link, nothing is written or removed behind it."""
    issue, out, elsewhere = issue_file(tmp_path), tmp_path / "out", tmp_path / "elsewhere"
    build_issue(issue, out, dpi=DPI, formats=["png-layers"], pages=[1])
    (out / "salt-road-02-p001").rename(elsewhere)
    (out / "salt-road-02-p001").symlink_to(elsewhere)
    (elsewhere / ".01 Page label.png.guidekit-part").write_bytes(b"somebody's own")
    before = contents(elsewhere)
    changed = issue_file(tmp_path, issue.read_text("utf-8").replace("Salt Road", "salt road"))
    report = build_issue(changed, out, dpi=DPI, formats=["png-layers"], pages=[1])
    assert report.files
    assert set(report.files.values()) <= {"kept", "drawn"}
    assert "kept" in report.files.values()
    assert contents(elsewhere) == before
