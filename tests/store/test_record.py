"""The record of a folder: what is in it, and what is refused in its place."""

import json
import os
from pathlib import Path

import pytest
from support.samples import JOURNAL, RECORD, contents
from support.small_builds import put_all

from guidekit import InputError
from guidekit.store.record import LARGEST

NAMES = ("p1", "p2")
GOOD = {"sha256": "a" * 64, "issue": "../issue.toml", "canvas": "p1", "format": "psd", "dpi": 600}
ADVICE = "Delete it: the next build makes a new one, and keeps every file that differs."


def record(name: str = "p1", version: int = 1, **changes: object) -> bytes:
    """A record of one file."""
    return json.dumps({"version": version, "files": {name: GOOD | changes}}).encode()


def refusal(out: Path) -> str:
    """What a build says of the record; it changes nothing."""

    def states() -> dict[str, tuple[int, ...]]:
        found = {path.name: path.lstat() for path in out.iterdir()}
        return {n: (s.st_ino, s.st_size, s.st_mtime_ns, s.st_ctime_ns) for n, s in found.items()}

    before = states()
    with pytest.raises(InputError) as caught:
        put_all(out, 2, NAMES)
    assert states() == before
    return str(caught.value)


def test_what_is_in_it(tmp_path: Path) -> None:
    """The record has a version, and a table for each file: its bytes, and what it was made of."""
    put_all(tmp_path / "out", 1, NAMES)
    data = json.loads((tmp_path / "out" / RECORD).read_bytes())
    there = contents(tmp_path / "out")
    assert data == {
        "version": 2,
        "files": {
            name: {
                "sha256": there[name],
                "issue": "../issue.toml",
                "canvas": name,
                "format": "psd",
                "dpi": 600,
                "info": "",
            }
            for name in NAMES
        },
        "cautions": [],
        "infos": {},
    }


def test_a_good_one(tmp_path: Path) -> None:
    """The record that the next tests spoil is read without a word."""
    (tmp_path / RECORD).write_bytes(record())
    assert put_all(tmp_path, 1, NAMES) == dict.fromkeys(NAMES, "written")


@pytest.mark.parametrize(
    "data",
    [
        record("\ud800.psd"),
        record(issue="\ud800"),
        record("../p1"),
        record("/tmp/p1"),
        record("a/../../p1"),
        record(""),
        record("a\0b"),
        record(sha256="A" * 64),
        record(sha256=""),
        record(dpi="600"),
        record(extra=1),
        record(version=3),
        b'{"files": {}}',
        b"[" * 100_000,
        b"1" * 100_000,
    ],
    ids=lambda data: data[:60].decode(),
)
@pytest.mark.parametrize("name", [RECORD, JOURNAL])
def test_not_of_a_build(tmp_path: Path, data: bytes, name: str) -> None:
    """A record or journal that no build wrote is refused: lone surrogates, names that lead out."""
    (tmp_path / name).write_bytes(data + b"\n")
    assert (
        refusal(tmp_path) == f"{tmp_path / name}: this record of a build cannot be read. {ADVICE}"
    )


@pytest.mark.parametrize("kind", ["pipe", "folder", "link", "device", "dangling link"])
@pytest.mark.parametrize("name", [RECORD, JOURNAL])
def test_no_file(tmp_path: Path, kind: str, name: str) -> None:
    """A pipe, folder, device or link in place of the record or journal is refused, and not read."""
    path, elsewhere = tmp_path / "out" / name, tmp_path / "elsewhere.json"
    path.parent.mkdir()
    elsewhere.write_bytes(record())
    if kind == "pipe":
        os.mkfifo(path)
    elif kind == "folder":
        path.mkdir()
    elif kind == "link":
        path.symlink_to(elsewhere)
    else:
        path.symlink_to("/dev/zero" if kind == "device" else "nowhere")
    came = "this is no file, and stands where the record of a build belongs"
    assert refusal(path.parent) == f"{path}: {came}. {ADVICE}"
    assert elsewhere.read_bytes() == record()


@pytest.mark.parametrize("name", [RECORD, JOURNAL])
def test_huge(tmp_path: Path, name: str) -> None:
    """A record of 8 GB, which takes no room on the disk, is refused before it fills the memory."""
    with (tmp_path / name).open("wb") as file:
        file.truncate(8_000_000_000)
    came = "this record of a build is larger than any build makes it"
    assert refusal(tmp_path) == f"{tmp_path / name}: {came}. {ADVICE}"
    assert LARGEST < 1 << 27


def test_only_our_own_rests_are_removed(tmp_path: Path) -> None:
    """What a killed build left is removed by its very name; no other file is, nor through a link.

    A journal that somebody made cannot have a drawing deleted.
    """
    out, elsewhere = tmp_path / "out", tmp_path / "elsewhere"
    for folder in (out / "deep", elsewhere):
        folder.mkdir(parents=True)
    ours, other = ".guidekit-00000000000000aa.part", ".guidekit-00000000000000bb.part"
    for path in (out / ours, out / "deep" / ours, out / other, elsewhere / ours):
        path.write_bytes(b"part")
    for name in ("drawing.psd", ".p1.guidekit-part", ".guidekit-part", "deep/drawing.psd"):
        (out / name).write_bytes(b"art")
    (out / "linked").symlink_to(elsewhere)
    (out / ".guidekit-00000000000000cc.part").symlink_to(elsewhere / ours)
    parts = (ours, f"deep/{ours}", f"linked/{ours}", ".guidekit-00000000000000cc.part",
             "drawing.psd", "deep/drawing.psd", ".guidekit-part", ".p1.guidekit-part")  # fmt: skip
    lines = [{"file": f"x{n}", "part": part, "entry": GOOD} for n, part in enumerate(parts)]
    (out / JOURNAL).write_text("".join(json.dumps(line) + "\n" for line in lines))
    before = contents(tmp_path)
    put_all(out, 1, NAMES)
    gone = {f"out/{ours}", f"out/deep/{ours}", f"out/{JOURNAL}"}
    assert set(before) - set(contents(tmp_path)) == gone
    assert (out / ".guidekit-00000000000000cc.part").is_symlink()
