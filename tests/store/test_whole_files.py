"""Every file appears whole or not at all, however a build ends."""

import errno
import os
import re
import resource
import signal
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from psd_tools import PSDImage
from support.long import shortened
from support.programs import HANG, ordinary_signals
from support.samples import (
    DPI,
    FOUR_PAGES,
    HEAD,
    JOURNAL,
    NAMES,
    RECORD,
    command,
    contents,
    environment,
    issue_file,
    run_here,
)
from support.stopping import at_page

from guidekit import MachineError, build_issue
from guidekit.store import ledger
from guidekit.store.files import write_whole
from guidekit.store.journal import Journal

PAGES = 40
MANY = HEAD + f"[[pages]]\ncount = {PAGES}\ntiers = [2, 3, 1]\n"
MENDED = "Nothing half-written was left; mend it and run again."


def assert_whole(path: Path) -> None:
    """A file that an independent reader can read to its end, and that is a page."""
    opened = PSDImage.open(path)
    assert opened.size == (413, 630)
    assert opened[0].name == "Paper"
    opened.numpy()  # the merged image is the last section of the file


def stopped_build(folder: Path, number: signal.Signals) -> tuple[int, str]:
    """Exit code and standard error of a build that gets a signal after its first five pages."""
    done = subprocess.run(
        command("build", issue_file(folder, MANY), "--out", folder / "out", "--dpi", 60),
        env=at_page(7, number, folder / "site"),
        stdout=subprocess.DEVNULL,
        stderr=subprocess.PIPE,
        text=True,
        preexec_fn=ordinary_signals,
        timeout=HANG,
    )
    return done.returncode, done.stderr


@pytest.mark.parametrize(
    "number",
    shortened(
        [signal.SIGTERM, signal.SIGINT, signal.SIGHUP, signal.SIGKILL],
        [signal.SIGINT, signal.SIGKILL],
    ),
    ids=lambda number: number.name,
)
def test_stopped(tmp_path: Path, number: signal.Signals) -> None:
    """A stopped build says what is done, leaves whole pages and its record; the next finishes it.

    It ends by the signal itself, or a shell that runs it in a loop would go on.
    """
    code, err = stopped_build(tmp_path, number)
    assert code == -number
    out = tmp_path / "out"
    there = {path.name for path in out.iterdir()}
    pages = {name for name in there if name.startswith("salt-road-02-p") and name.endswith(".psd")}
    assert 5 <= len(pages) < PAGES
    for name in pages:
        assert_whole(out / name)
    if number != signal.SIGKILL:  # of which no program hears
        assert there - pages == {RECORD}
        found = re.fullmatch(
            "guidekit: stopped. Run it again to go on.\n"
            rf"Done: (\d+) of {PAGES} canvases, all whole. "
            r"Not done: salt-road-02-p(\d{3}) and (\d+) more.\n",
            err,
        )
        assert found, err
        done, first, more = (int(number) for number in found.groups())
        assert more == PAGES - done - 1
        numbers = {int(name[-7:-4]) for name in pages}  # two are written at once, in either order
        assert len(pages) - 1 <= done <= len(pages), "the last one may just have come up"
        missing = min({*range(1, PAGES + 1)} - numbers)
        assert first == missing or (done < len(pages) and first in numbers)
    report = build_issue(tmp_path / "issue.toml", out, dpi=60)
    assert set(report.named("unchanged")) == pages
    assert len(report.named("written")) == PAGES - len(pages)
    assert {path.name for path in out.iterdir()} == {*report.files, RECORD}


def test_disk_full(tmp_path: Path) -> None:
    """A page for which there is no room leaves nothing; exit code 1 and the reason are given."""
    issue = issue_file(tmp_path)

    def little_room() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (4000, 4000))
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)  # so that a write fails instead

    done = subprocess.run(
        command("build", issue, "--out", "out", "--dpi", DPI),
        cwd=tmp_path,
        env=environment(PYTHONDONTWRITEBYTECODE="1"),
        capture_output=True,
        preexec_fn=little_room,
    )
    assert done.returncode == 1
    assert done.stdout == b""
    assert done.stderr.decode() == (
        f"guidekit: writing out/{NAMES[0]}: {os.strerror(errno.EFBIG)}. {MENDED}\n"
        "Done: 0 of 4 canvases. Not done: salt-road-02-p001 and 3 more.\n"
    )
    assert contents(tmp_path / "out") == {}
    assert build_issue(issue, tmp_path / "out", dpi=DPI).named("written") == NAMES


def full_after(calls: int) -> Callable[[int], None]:
    """An `os.fsync` that tells once, after some calls that go well, that the disk is full."""
    left = iter([None] * calls + [OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))])

    def fsync(_: int) -> None:
        if failed := next(left, None):
            raise failed

    return fsync


def test_disk_full_in_the_middle(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Pages written before the disk was full stay and are known; the next build adds the rest."""
    issue, out = issue_file(tmp_path), tmp_path / "out"
    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", full_after(2))
        with pytest.raises(MachineError) as caught:
            build_issue(issue, out, dpi=DPI)
    failed = str(caught.value).removeprefix(f"writing {out}/").split(":")[0]
    assert str(caught.value) == f"writing {out / failed}: No space left on device. {MENDED}"
    (note,) = caught.value.__notes__
    assert re.fullmatch(r"Done: [012] of 4 canvases(, all whole)?\. Not done: .* more\.", note)
    assert failed not in contents(out)
    assert {RECORD} < set(contents(out)) < {*NAMES, RECORD}
    changed = issue_file(tmp_path, FOUR_PAGES.replace("Salt Road", "salt road"))
    report = build_issue(changed, out, dpi=DPI)  # only known files may be replaced
    assert report.files == dict.fromkeys(NAMES, "written")


def test_disk_full_for_the_record(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """If only the record finds no room, the journal stays in its place, and pages are known."""
    issue, out = issue_file(tmp_path), tmp_path / "out"

    def full_for_the_record(path: Path, *given: Any) -> bool:
        if path.name == RECORD:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        return write_whole(path, *given)

    with monkeypatch.context() as patched:
        patched.setattr(ledger, "write_whole", full_for_the_record)
        run = run_here("build", issue, "--out", out, "--dpi", DPI)
    text = f"guidekit: writing {out / RECORD}: No space left on device. {MENDED}\n"
    assert run == (1, "", text)
    assert sorted(contents(out)) == [JOURNAL, *NAMES]
    changed = issue_file(tmp_path, FOUR_PAGES.replace("Salt Road", "salt road"))
    report = build_issue(changed, out, dpi=DPI)  # only known files may be replaced
    assert report.files == dict.fromkeys(NAMES, "written")
    assert sorted(contents(out)) == [RECORD, *NAMES]


@pytest.mark.parametrize("step", ["the second line of the journal", "the temporary name"])
def test_failure_when_all_but_done(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    """Where a step fails after a page has come up, the page is known all the same."""
    issue, out = issue_file(tmp_path), tmp_path / "out"
    unlink = Path.unlink

    def fail(*_: object) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    def fail_for_parts(path: Path, **how: bool) -> None:
        return fail() if path.suffix == ".part" else unlink(path, **how)

    with monkeypatch.context() as patched:
        if "line" in step:
            patched.setattr(Journal, "done", fail)
        else:
            patched.setattr(Path, "unlink", fail_for_parts)
        with pytest.raises(MachineError, match="No space left on device"):
            build_issue(issue, out, dpi=DPI)
    there = [name for name in NAMES if (out / name).exists()]
    assert there
    changed = issue_file(tmp_path, FOUR_PAGES.replace("Salt Road", "salt road"))
    assert build_issue(changed, out, dpi=DPI).files == dict.fromkeys(NAMES, "written")


def no_links(*_: object) -> None:
    """What `os.link` does on a file system that knows no links."""
    raise OSError(errno.EPERM, os.strerror(errno.EPERM))


@pytest.mark.parametrize("links", [True, False], ids=["links", "no links"])
@pytest.mark.parametrize("moved_away", [False, True], ids=["new page", "page moved away"])
def test_file_that_comes_up_meanwhile(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, moved_away: bool, links: bool
) -> None:
    """A file that comes up between the check and the rename is not replaced."""
    if not links:
        monkeypatch.setattr(os, "link", no_links)
    issue, out = issue_file(tmp_path), tmp_path / "out"
    if moved_away:
        build_issue(issue, out, dpi=DPI)
        (out / NAMES[0]).unlink()

    def comes_up(_: int) -> None:
        if not (out / NAMES[0]).exists():
            (out / NAMES[0]).write_bytes(b"saved just now")

    monkeypatch.setattr(os, "fsync", comes_up)
    report = build_issue(issue, out, dpi=DPI, pages=[1])
    assert (out / NAMES[0]).read_bytes()[:14] == b"saved just now"
    assert report.files == {NAMES[0]: "kept"}
    assert not [name for name in contents(out) if "part" in name]


def test_file_system_without_links(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where the file system knows no links, files still come whole and none is replaced."""
    monkeypatch.setattr(os, "link", no_links)
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / NAMES[1]).write_bytes(b"mine")
    report = build_issue(issue_file(tmp_path), tmp_path / "out", dpi=DPI)
    assert report.named("written") == (NAMES[0], *NAMES[2:])
    assert (tmp_path / "out" / NAMES[1]).read_bytes() == b"mine"
    assert set(contents(tmp_path / "out")) == {*NAMES, RECORD}
