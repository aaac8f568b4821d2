"""One build at a time works in a folder."""

import errno
import os
import subprocess
import sys
from pathlib import Path

import pytest
from filelock import lock_descriptor
from psd_tools import PSDImage
from support.programs import HANG
from support.samples import HEAD, RECORD, command, contents, environment, issue_file
from support.small_builds import data_of, in_child, put_all

from guidekit import InputError, MachineError, build_issue
from guidekit.store import folder_lock
from guidekit.store.folder_lock import LOCK, SOFT_LOCK, locked

NAMES = ("p1", "p2")
#: A process that holds the lock of a folder until it is killed.
HOLDER = """
import sys
from pathlib import Path
import guidekit.store.folder_lock as lock
{change}
with lock.locked(Path(sys.argv[1])):
    print("held", flush=True)
    sys.stdin.readline()
"""
WITHOUT_LOCKS = """
def without(*_, **__): raise OSError(37, "No locks available")
lock.lock_descriptor = without
"""


@pytest.fixture
def impatient(monkeypatch: pytest.MonkeyPatch) -> None:
    """Builds that wait a moment only."""
    monkeypatch.setattr(folder_lock, "PATIENCE", 0.2)


@pytest.fixture
def patient(monkeypatch: pytest.MonkeyPatch) -> None:
    """Builds that wait for others however slow the machine is."""
    monkeypatch.setattr(folder_lock, "PATIENCE", HANG)


def holder(folder: Path, change: str = "") -> subprocess.Popen[str]:
    """Another process that holds the lock of a folder by now."""
    process = subprocess.Popen(
        [sys.executable, "-c", HOLDER.format(change=change), str(folder)],
        env=environment(),
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )
    assert process.stdout
    assert process.stdout.readline() == "held\n"
    return process


def no_locks(*_: object, **__: object) -> bool:
    """What a file system answers that knows no locks."""
    raise OSError(errno.ENOLCK, os.strerror(errno.ENOLCK))


def test_two_builds_at_once(tmp_path: Path) -> None:
    """Of two builds into one folder both end well, or one says who is at work; all pages are whole.

    What is there afterwards is known: a third build of another format replaces every page.
    """
    count = 12
    issue = issue_file(tmp_path, HEAD + f"[[pages]]\ncount = {count}\ntiers = [2]\n")
    out = tmp_path / "out"
    both = [
        subprocess.Popen(
            command("build", issue, "--out", out, "--dpi", 30),
            env=environment(),
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for _ in range(2)
    ]
    told = [process.communicate(timeout=HANG) for process in both]
    for process, (_, err) in zip(both, told, strict=True):
        assert process.returncode == 0 or "is at work in this folder" in err
    pages = sorted(out.glob("*.psd"))
    assert len(pages) == count
    for page in pages:
        PSDImage.open(page).numpy()
    assert {path.name for path in out.iterdir()} == {RECORD, *(page.name for page in pages)}
    changed = issue_file(tmp_path, HEAD + f"[[pages]]\ncount = {count}\ntiers = [3]\n")
    assert len(build_issue(changed, out, dpi=30).named("written")) == count


@pytest.mark.usefixtures("patient")
def test_many_builds_at_once(tmp_path: Path) -> None:
    """Builds of different versions come one after the other, and none mixes with another."""
    out, canvases = tmp_path / "out", [f"p{number}" for number in range(12)]
    children = [
        in_child(lambda: put_all(out, version, canvases))  # noqa: B023
        for version in range(1, 5)
    ]
    for child in children:
        assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
    versions = [
        {(out / canvas).read_bytes() == data_of(version, canvas) for canvas in canvases}
        for version in range(1, 5)
    ]
    assert sorted(versions, key=len) == [{True}, {False}, {False}, {False}] or (
        versions.count({True}) == 1 and versions.count({False}) == 3
    )
    assert put_all(out, 9, canvases) == dict.fromkeys(canvases, "written")


@pytest.mark.usefixtures("impatient")
@pytest.mark.parametrize("change", ["", WITHOUT_LOCKS], ids=["locks", "no locks"])
def test_somebody_is_at_work(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, change: str) -> None:
    """While another process works in the folder, a build says which one, and changes nothing.

    When that process is dead, be it killed, its lock is no lock any more.
    """
    if change:
        monkeypatch.setattr(folder_lock, "lock_descriptor", no_locks)
    with holder(tmp_path, change) as other:
        before = contents(tmp_path)
        with pytest.raises(MachineError) as caught:
            put_all(tmp_path, 1, NAMES)
        assert str(caught.value) == (
            f"{tmp_path}: another build (process {other.pid}) is at work in this folder. "
            "Nothing was written; wait until it is done and run again."
        )
        assert contents(tmp_path) == before
        other.kill()
        other.wait()
        assert put_all(tmp_path, 1, NAMES) == dict.fromkeys(NAMES, "written")
    assert set(contents(tmp_path)) == {RECORD, *NAMES}


@pytest.mark.usefixtures("patient")
def test_a_short_build_is_waited_for(tmp_path: Path) -> None:
    """A build waits for another one that ends soon."""
    with holder(tmp_path) as other:
        child = in_child(lambda: put_all(tmp_path, 1, NAMES))
        other.communicate("enough\n")
        assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == 0
    assert set(contents(tmp_path)) == {RECORD, *NAMES}


@pytest.mark.usefixtures("impatient")
def test_the_last_holder_removes_its_lock(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A lock on a file that its last holder has just removed is none: the next file is locked."""
    removed = False

    def lock_removed(file: int, *, blocking: bool) -> bool:
        nonlocal removed
        if not removed:
            (tmp_path / LOCK).unlink()
            removed = True
        return lock_descriptor(file, blocking=blocking)

    monkeypatch.setattr(folder_lock, "lock_descriptor", lock_removed)
    with locked(tmp_path):
        assert (tmp_path / LOCK).read_text() == f"{os.getpid()}\n"
        with pytest.raises(MachineError, match=f"process {os.getpid()}"), locked(tmp_path):
            pass
    assert removed
    assert [*tmp_path.iterdir()] == []


def test_file_system_without_locks(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the file system knows no locks, a build works all the same, and leaves none behind."""
    monkeypatch.setattr(folder_lock, "lock_descriptor", no_locks)
    with locked(tmp_path):
        assert [path.name for path in tmp_path.iterdir()] == [SOFT_LOCK]
    assert put_all(tmp_path, 1, NAMES) == dict.fromkeys(NAMES, "written")
    assert set(contents(tmp_path)) == {RECORD, *NAMES}


@pytest.mark.parametrize("kind", ["link", "dangling link", "hard link", "pipe", "folder", "device"])
def test_no_lock_where_the_lock_should_be(tmp_path: Path, kind: str) -> None:
    """What stands in the place of the lock stays as it is, and the build says so without waiting.

    A linked drawing keeps its bytes: the number of the process is not written into it.
    """
    path, drawing = tmp_path / "out" / LOCK, tmp_path / "drawing.psd"
    path.parent.mkdir()
    drawing.write_bytes(b"art")
    if kind == "link":
        path.symlink_to(drawing)
    elif kind == "dangling link":
        path.symlink_to(tmp_path / "nowhere")
    elif kind == "hard link":
        path.hardlink_to(drawing)
    elif kind == "pipe":
        os.mkfifo(path)
    elif kind == "folder":
        path.mkdir()
    else:
        path.symlink_to("/dev/zero")
    with pytest.raises(InputError) as caught:
        put_all(path.parent, 1, NAMES)
    assert str(caught.value) == (
        f"{path}: this stands where the lock of a build belongs, and is none. Move it away."
    )
    assert drawing.read_bytes() == b"art"
    assert [*path.parent.iterdir()] == [path]
    assert not (tmp_path / "nowhere").exists()


def test_lock_left_by_a_dead_build(tmp_path: Path) -> None:
    """A lock's file without a process that holds it is taken over, whatever is in it."""
    (tmp_path / LOCK).write_bytes(b"1\n")
    assert put_all(tmp_path, 1, NAMES) == dict.fromkeys(NAMES, "written")
    assert set(contents(tmp_path)) == {RECORD, *NAMES}
