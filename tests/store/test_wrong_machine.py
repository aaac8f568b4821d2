"""Failures of the machine: exit code 1, one sentence, nothing half-written."""

import errno
import os
from pathlib import Path

import pytest
from support.samples import DPI, NAMES, Run, contents, issue_file, run_here

from guidekit import MachineError, build_issue

MENDED = "Nothing half-written was left; mend it and run again."
NONE_DONE = "Done: 0 of 4 canvases. Not done: salt-road-02-p001 and 3 more."
REFUSED = PermissionError(errno.EACCES, os.strerror(errno.EACCES))


def build(issue: Path, out: Path) -> Run:
    """A quick build by the command line."""
    return run_here("build", issue, "--out", out, "--dpi", DPI)


def refuse(*_: object, **__: object) -> None:
    """What the system answers without permission; root, whom it lets do all, runs tests too."""
    raise REFUSED


def test_out_is_a_file(tmp_path: Path) -> None:
    """A file in place of the output folder is bad input, and stays as it is."""
    out = tmp_path / "out"
    out.write_bytes(b"mine")
    said = f"guidekit: {out}: this is a file. Name a folder, there or still to be made.\n"
    assert build(issue_file(tmp_path), out) == (2, "", said)
    assert out.read_bytes() == b"mine"


def test_folder_below_a_file(tmp_path: Path) -> None:
    """A folder that cannot be made, here below a file, ends with exit code 1."""
    (tmp_path / "file").write_bytes(b"mine")
    out = tmp_path / "file" / "out"
    said = f"guidekit: opening the folder {out}: Not a directory. {MENDED}\n"
    assert build(issue_file(tmp_path), out) == (1, "", said)


@pytest.mark.skipif(not Path("/proc/self").is_dir(), reason="this system has no /proc")
def test_folder_that_takes_no_files(tmp_path: Path) -> None:
    """A folder in which nobody can make a file, not even root, ends with exit code 1."""
    run = build(issue_file(tmp_path), Path("/proc/self"))
    assert (run.code, run.out) == (1, "")
    assert run.err.startswith("guidekit: locking the folder /proc/self: ")
    assert run.err.endswith(f". {MENDED}\n")
    assert run.err.count("\n") == 1


def test_no_permission_to_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An issue that may not be read is a failure of the machine, not of the issue."""
    issue = issue_file(tmp_path)
    monkeypatch.setattr(Path, "read_bytes", refuse)
    said = f"guidekit: reading {issue}: Permission denied. {MENDED}\n"
    assert build(issue, tmp_path / "out") == (1, "", said)
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("name", "doing"), [("mkdir", "opening the folder {}"), ("open", "writing {}/" + NAMES[0])]
)
def test_no_permission_to_write(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, doing: str
) -> None:
    """Where a folder or a file may not be made, the reason is told and nothing is there."""
    issue, out = issue_file(tmp_path), tmp_path / "out"
    real = getattr(Path, name)

    def refuse_writing(path: Path, *given: object, **named: object) -> object:
        if out not in (path, *path.parents) or "r" in (*given, *named.values()):
            return real(path, *given, **named)
        raise REFUSED

    monkeypatch.setattr(Path, name, refuse_writing)
    said = f"guidekit: {doing.format(out)}: Permission denied. {MENDED}\n"
    said += f"{NONE_DONE}\n" if name == "open" else ""
    assert build(issue, out) == (1, "", said)
    assert [*tmp_path.rglob("*.psd*")] == []


def test_no_permission_to_replace(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A page that may not be replaced keeps its bytes, and its new canvas is not left over."""
    out = tmp_path / "out"
    build(issue_file(tmp_path), out)
    before = contents(out)
    changed = issue_file(tmp_path, issue_file(tmp_path).read_text("utf-8").replace("Salt", "salt"))
    monkeypatch.setattr(Path, "replace", refuse)
    run = build(changed, out)
    assert (run.code, run.out) == (1, "")
    assert run.err.endswith(f"Permission denied. {MENDED}\n{NONE_DONE}\n")
    assert contents(out) == before


def test_file_in_place_of_a_folder_of_layers(tmp_path: Path) -> None:
    """A file where the folder of a page's layers should be is a failure, and stays as it is."""
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "salt-road-02-p001").write_bytes(b"mine")
    with pytest.raises(MachineError, match=r"writing .*/salt-road-02-p001/01 Page label\.png: "):
        build_issue(issue_file(tmp_path), tmp_path / "out", formats=["png-layers"], dpi=DPI)
    assert (tmp_path / "out" / "salt-road-02-p001").read_bytes() == b"mine"


def test_new_below_a_file(tmp_path: Path) -> None:
    """An issue that cannot be started where it should be ends with exit code 1."""
    (tmp_path / "file").write_bytes(b"mine")
    path = tmp_path / "file" / "harbour"
    said = f"guidekit: writing {path / 'harbour.toml'}: Not a directory. {MENDED}\n"
    assert run_here("new", path) == (1, "", said)
