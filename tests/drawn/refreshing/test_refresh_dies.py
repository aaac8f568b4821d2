"""Whenever a refresh is stopped, by whatever, one whole file is there and no drawing is lost."""

import errno
import os
import random
import shutil
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryFile
from threading import Thread
from typing import IO

import pytest
from support.drawn_psd import TWO_DRAWN as DRAWN
from support.drawn_psd import two_drawn
from support.long import in_ci
from support.samples import DPI, RECORD, run_here
from support.small_builds import FullAfter, dies_at, killed

from guidekit.drawn.psd.merged import Merged
from guidekit.drawn.refreshing.refresh import refresh_issue, undo_refresh
from guidekit.drawn.spans import source
from guidekit.store import before
from guidekit.store.files import state_of
from guidekit.store.folder_lock import LOCK, locked

#: Of the steps that something dies before, every one or every third is tried.
STRIDE = in_ci(1, first=3)


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """The folder of a build of which two pages are drawn on, and whose gutters are wider now."""
    return two_drawn(tmp_path)


def refresh(folder: Path) -> None:
    """A refresh of the issue that lies beside the folder."""
    refresh_issue(folder.parent / "issue.toml", folder, dpi=DPI)


def whole(folder: Path) -> dict[str, bytes]:
    """Every drawing, the old ones in `before` too; no temporary file may be there."""
    names = [path.relative_to(folder).as_posix() for path in folder.rglob("*") if path.is_file()]
    return {name: (folder / name).read_bytes() for name in names if name.endswith(".psd")}


def debris(folder: Path) -> list[str]:
    """Temporary files."""
    return [path.name for path in folder.rglob("*.part")]


def copied(out: Path, number: object) -> Path:
    """The folder with its issue in another place."""
    shutil.copytree(out.parent, out.parent.parent / f"{out.parent.name}-{number}")
    return out.parent.parent / f"{out.parent.name}-{number}" / "out"


def test_death_at_every_step(out: Path) -> None:
    """Whichever step it dies before, each drawing is there whole, old or new, and its old state."""
    (out / DRAWN[1]).unlink()
    old = whole(out)
    done = copied(out, "done")
    refresh(done)
    new = whole(done)
    for step in range(1, 200, STRIDE):
        folder = copied(out, step)
        dead = dies_at(step, folder, lambda: refresh(folder))  # noqa: B023
        there = whole(folder)
        name = DRAWN[0]
        assert there[name] in (old[name], new[name])
        assert old[name] in there.values()
        refresh(folder)
        there = whole(folder)
        assert {name: there[name] for name in old} == {name: new[name] for name in old}
        assert set(old.values()) <= set(there.values())
        assert debris(folder) == []
        shutil.rmtree(folder.parent)
        if not dead:
            break
    assert 25 < step < 199


def test_death_of_an_undo(out: Path) -> None:
    """Whichever step an undo dies before, another one ends it, and nothing drawn is lost."""
    old = whole(out)
    refresh(out)
    new = whole(out)
    for step in range(1, 100, STRIDE):
        folder = copied(out, step)
        issue = folder.parent / "issue.toml"
        dead = dies_at(step, folder, lambda: undo_refresh(issue, folder))  # noqa: B023
        there = whole(folder)
        assert all(there[name] in (old[name], new[name]) for name in DRAWN)
        undo_refresh(issue, folder)
        assert whole(folder) == old
        assert debris(folder) == []
        if not dead:
            break
    assert 10 < step < 97


def test_killed_at_random(out: Path) -> None:
    """After many kills at random moments every drawing is one of its two states, in full."""
    old, moments, kills = whole(out), random.Random(5), 0
    done = copied(out, "done")
    refresh(done)
    new = whole(done)
    for _ in range(in_ci(500, first=6)):
        kills += killed(lambda: refresh(out), 0.4 * moments.random() ** 3)  # early ones more often
        there = whole(out)
        assert all(there[name] in (old[name], new[name]) for name in DRAWN)
        assert {old[name] for name in DRAWN} <= {*there.values()}
    assert kills
    refresh(out)
    assert {name: whole(out)[name] for name in old} == {name: new[name] for name in old}
    assert debris(out) == []


@pytest.mark.parametrize("way", ["in place", "by a new file", "at the last moment"])
def test_saved_meanwhile(out: Path, monkeypatch: pytest.MonkeyPatch, way: str) -> None:
    """What an app saves while the new file is made stays; the page is named, the other is done."""
    name = DRAWN[0]
    place = "put_in_place" if way == "at the last moment" else "keep_owner"
    real: Callable[..., object] = getattr(before, place)

    def saved(new: object, *given: object) -> object:
        if out / name in given or state_of(out / name) in given:
            if way == "in place":
                (out / name).write_bytes(b"saved")
            else:
                (out / "new").write_bytes(b"saved")
                (out / "new").replace(out / name)
        return real(new, *given)

    monkeypatch.setattr(before, place, saved)
    report = refresh_issue(out.parent / "issue.toml", out, dpi=DPI)
    (file,) = report.named("refused")
    told = "it was saved by another program just now. Run it again."
    assert (file.name, file.why) == (name, told)
    assert (out / name).read_bytes() == b"saved"
    assert [file.name for file in report.named("refreshed")] == [DRAWN[1]]
    assert debris(out) == []


def test_no_links(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where a file system knows no links, the old file is copied into its place."""
    old = whole(out)

    def link(*_: object) -> None:
        raise OSError(errno.EPERM, os.strerror(errno.EPERM))

    monkeypatch.setattr(os, "link", link)
    refresh(out)
    there = whole(out)
    assert all(there[f"before/{Path(name).stem}.1.psd"] == old[name] for name in DRAWN)
    assert all(there[name] != old[name] for name in DRAWN)
    undo_refresh(out.parent / "issue.toml", out)
    assert whole(out) == old
    assert debris(out) == []


def test_disk_full(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Wherever the disk is full, every drawing is whole, and a page that was not done says why."""
    old = whole(out)
    (out / DRAWN[1]).unlink()
    old.pop(DRAWN[1])
    for calls in range(1, 14, STRIDE):
        folder = copied(out, calls)
        with monkeypatch.context() as patched:
            patched.setattr(os, "fsync", FullAfter(calls))
            run = run_here("refresh", folder.parent, "--out", folder, "--dpi", DPI)
        assert (run.code == 1) == ("No space left on device" in run.err)
        there = whole(folder)
        assert old[DRAWN[0]] in there.values()
        refresh(folder)
        assert debris(folder) == []
        shutil.rmtree(folder.parent)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="this system has no /dev/full")
def test_no_room_for_the_picture(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the disk of temporary files is full, the page says so, and the others are done."""
    old, full = whole(out), [Path("/dev/full")]

    def temporary() -> IO[bytes]:
        return full.pop().open("w+b") if full else TemporaryFile()

    monkeypatch.setattr(source, "TemporaryFile", temporary)
    report = refresh_issue(out.parent / "issue.toml", out, dpi=DPI)
    (file,) = report.named("refused")
    told = "No space left on device. The file is as it was; mend it and run again."
    assert (file.name, file.why) == (DRAWN[0], told)
    assert [file.name for file in report.named("refreshed")] == [DRAWN[1]]
    assert whole(out)[DRAWN[0]] == old[DRAWN[0]]
    assert debris(out) == []


def test_stopped_while_it_is_made(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A Ctrl-C while one page is made ends it; that page is as it was, the one before is done."""
    old, real, begun = whole(out), Merged.make, []

    def stopped(image: Merged) -> None:
        begun.append(image)
        if len(begun) == len(DRAWN):
            raise KeyboardInterrupt
        real(image)

    monkeypatch.setattr(Merged, "make", stopped)
    with pytest.raises(KeyboardInterrupt):
        refresh(out)
    there = whole(out)
    assert old[DRAWN[1]] == there[DRAWN[1]]
    assert old[DRAWN[0]] != there[DRAWN[0]]
    assert set(old.values()) <= set(there.values())
    assert debris(out) == []


def test_no_thread(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the system gives no thread, a sentence says so, and every drawing is as it was."""
    old = whole(out)

    def start(_: Thread) -> None:
        raise RuntimeError("can't start new thread")

    monkeypatch.setattr(Thread, "start", start)
    run = run_here("refresh", out.parent, "--out", out, "--dpi", DPI)
    assert run.code == 1
    assert "starting a thread: the system allows no more of them." in run.err
    assert whole(out) == old
    assert debris(out) == []


def test_two_at_once(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """While one is at work in the folder another one does nothing, and says so."""
    monkeypatch.setattr("guidekit.store.folder_lock.PATIENCE", 0)
    old = whole(out)
    with locked(out):
        run = run_here("refresh", out.parent, "--out", out, "--dpi", DPI)
    assert run.code == 1
    assert "is at work in this folder" in run.err
    assert whole(out) == old
    assert (out / RECORD).exists()
    assert not (out / LOCK).exists()
