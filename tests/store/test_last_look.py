"""What happens to a file or a folder while a build runs, and what stays of a file it replaces."""

import os
import stat
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace
from typing import cast

import pytest
from support.samples import JOURNAL, RECORD, contents
from support.small_builds import data_of, put_all

from guidekit import MachineError
from guidekit.store import files, ledger

NAMES = ("p1", "p2")


def while_written(
    monkeypatch: pytest.MonkeyPatch, happens: Callable[[], object], name: str = "p1"
) -> None:
    """Let something happen after a file was read and before its new bytes take its place."""
    real = files.write_whole

    def write_whole(path: Path, *given: object) -> bool:
        if path.name == name:
            happens()
        return real(path, *given)  # type: ignore[arg-type]

    monkeypatch.setattr(ledger, "write_whole", write_whole)


@pytest.mark.parametrize("way", ["in place", "by a new file"])
def test_changed_with_size_and_time_as_before(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, way: str
) -> None:
    """A page that is drawn on just now is kept, even with size and time as they were."""
    put_all(tmp_path, 1, NAMES)
    page, art = tmp_path / "p1", b"x" * len(data_of(1, "p1"))
    before = page.stat()

    def draw() -> None:
        if way == "in place":
            page.write_bytes(art)
        else:
            (tmp_path / "new").write_bytes(art)
            (tmp_path / "new").replace(page)
        os.utime(page, ns=(before.st_atime_ns, before.st_mtime_ns))

    while_written(monkeypatch, draw)
    assert put_all(tmp_path, 2, NAMES) == {"p1": "kept", "p2": "written"}
    assert page.read_bytes() == art
    assert page.stat().st_mtime_ns == before.st_mtime_ns
    assert set(contents(tmp_path)) == {RECORD, *NAMES}


@pytest.mark.parametrize("what", ["st_dev", "st_ino", "st_size", "st_mtime_ns", "st_ctime_ns"])
def test_each_sign_of_change(tmp_path: Path, what: str) -> None:
    """A file is not replaced if any one of these is another than when it was read."""
    path, part = tmp_path / "p1", tmp_path / "part"
    path.write_bytes(b"art")
    state = path.stat()
    names = [name for name in dir(state) if name.startswith("st_")]
    other = SimpleNamespace(**{name: getattr(state, name) for name in names})
    setattr(other, what, getattr(state, what) + 1)
    assert not files.write_whole(path, [b"new"], part, cast(os.stat_result, other))
    assert path.read_bytes() == b"art"
    assert files.write_whole(path, [b"new"], part, state)
    assert [path.read_bytes(), part.exists()] == [b"new", False]


def test_permissions_stay(tmp_path: Path) -> None:
    """A file that is replaced has the permissions that it had, and a new one the usual ones."""
    put_all(tmp_path, 1, NAMES)
    modes = {"p1": 0o640, "p2": 0o444}
    for name, mode in modes.items():
        (tmp_path / name).chmod(mode)
    (tmp_path / RECORD).chmod(0o600)
    put_all(tmp_path, 2, NAMES)
    assert (tmp_path / "p1").read_bytes() == data_of(2, "p1")
    found = {name: stat.S_IMODE((tmp_path / name).stat().st_mode) for name in (*NAMES, RECORD)}
    assert found == modes | {RECORD: 0o600}


@pytest.mark.skipif(os.geteuid() != 0, reason="only root may give files away")
def test_owner_stays(tmp_path: Path) -> None:
    """A file that is replaced has the owner and group that it had."""
    put_all(tmp_path, 1, NAMES)
    os.chown(tmp_path / "p1", 12345, 23456)
    put_all(tmp_path, 2, NAMES)
    now = (tmp_path / "p1").stat()
    assert (now.st_uid, now.st_gid) == (12345, 23456)
    assert (tmp_path / "p1").read_bytes() == data_of(2, "p1")


def test_owner_that_we_may_not_give(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the system lets nobody give files away, a file is replaced all the same."""
    put_all(tmp_path, 1, NAMES)
    asked = []

    def refuse(file: int, user: int, group: int) -> None:
        asked.append((user, group))
        raise PermissionError

    monkeypatch.setattr(os, "fchown", refuse)
    state = (tmp_path / "p1").stat()
    other = os.stat_result((*state[:4], 12345, 23456, *state[6:]))
    with (tmp_path / "new").open("wb") as file:
        files.keep_owner(file.fileno(), other)
    assert asked == [(12345, 23456), (-1, 23456)]


@pytest.mark.parametrize("way", ["renamed", "removed", "replaced"])
def test_folder_goes_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, way: str) -> None:
    """A folder that is renamed, removed or replaced during a build ends it, and none is made.

    The pages are where the folder went, and known there.
    """
    out, away = tmp_path / "out", tmp_path / "away"
    put_all(out, 1, NAMES)

    def go() -> None:
        out.rename(away)
        if way == "removed":
            for path in away.iterdir():
                path.unlink()
            away.rmdir()
        elif way == "replaced":
            out.mkdir()

    real = ledger.Ledger.write

    def write(self: ledger.Ledger, name: str, *given: object) -> bool:
        done = real(self, name, *given)  # type: ignore[arg-type]
        if name == "p1":
            go()
        return done

    monkeypatch.setattr(ledger.Ledger, "write", write)
    monkeypatch.setattr("guidekit.store.queue.MOST_WAITING", 0)  # one after the other
    with pytest.raises(MachineError, match="moved, removed or replaced while the build ran"):
        put_all(out, 2, NAMES)
    monkeypatch.undo()
    assert out.exists() == (way == "replaced")
    assert contents(tmp_path / "out") == {}
    if way != "removed":
        assert (away / "p1").read_bytes() == data_of(2, "p1")
        assert put_all(away, 3, NAMES) == dict.fromkeys(NAMES, "written")


def test_folder_goes_away_in_the_middle_of_a_page(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A folder that is renamed while a page is written is not made again for that page."""
    out, away = tmp_path / "out", tmp_path / "away"
    put_all(out, 1, NAMES)
    while_written(monkeypatch, lambda: out.rename(away))
    with pytest.raises(MachineError):
        put_all(out, 2, NAMES)
    monkeypatch.undo()
    assert not out.exists()
    assert put_all(away, 3, NAMES) == dict.fromkeys(NAMES, "written")
    assert set(contents(away)) == {RECORD, *NAMES}


def test_what_is_flushed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The journal is on the disk before a page appears, the names of pages before the record."""
    out, told = tmp_path / "out", list[str]()
    flush, link, replace = os.fsync, os.link, Path.replace

    def fsync(file: int) -> None:
        state = os.fstat(file)
        paths = [tmp_path, out, out / "deep", *out.rglob("*")]
        path = next(p for p in paths if p.exists() and os.path.samestat(p.stat(), state))
        told.append(f"flush {'part' if path.suffix == '.part' else path.name}")
        flush(file)

    def linked(part: Path, path: Path) -> None:
        told.append(f"name {path.name}")
        link(part, path)

    def replaced(part: Path, path: Path) -> Path:
        told.append(f"name {path.name}")
        return replace(part, path)

    monkeypatch.setattr(os, "fsync", fsync)
    monkeypatch.setattr(os, "link", linked)
    monkeypatch.setattr(Path, "replace", replaced)
    put_all(out, 1, ["deep/p1"])
    page = ["flush .guidekit.journal", "flush part", "name p1"]
    assert told[:5] == [f"flush {tmp_path.name}", "flush out", *page]
    assert sorted(told[5:7]) == ["flush deep", "flush out"]
    assert told[7:] == ["flush part", f"name {RECORD}", "flush out"]
    told.clear()
    put_all(out, 2, ["deep/p1"])
    assert told[1:4] == page
    told.clear()
    put_all(out, 2, ["deep/p1"])
    assert told == [], "nothing to flush where nothing was written"


def test_names_reach_the_disk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The folder is flushed after pages have their names, and again after the record has, before
    the journal goes: a power cut loses none of it (fsync(2): the entry in the folder needs an fsync
    of its own).
    """
    events: list[str] = []
    fsync, link, replace, unlink = os.fsync, os.link, Path.replace, Path.unlink

    def flushed(file: int) -> None:
        if stat.S_ISDIR(os.fstat(file).st_mode):
            events.append("folder flushed")
        fsync(file)

    def linked(part: Path, path: Path) -> None:
        events.append(path.name)
        link(part, path)

    def replaced(part: Path, path: Path) -> Path:
        events.append(path.name)
        return replace(part, path)

    def removed(path: Path, missing_ok: bool = False) -> None:
        events.append(f"without {path.name}")
        unlink(path, missing_ok)

    for name, own in {"fsync": flushed, "link": linked}.items():
        monkeypatch.setattr(os, name, own)
    for name, method in {"replace": replaced, "unlink": removed}.items():
        monkeypatch.setattr(Path, name, method)
    for version in (1, 2):  # new names, and names that are there already
        events.clear()
        put_all(tmp_path, version, NAMES)
        places = [events.index(what) for what in (NAMES[-1], RECORD, f"without {JOURNAL}")]
        assert places == sorted(places)
        named, recorded, ended = places
        assert "folder flushed" in events[named:recorded]
        assert "folder flushed" in events[recorded:ended]
