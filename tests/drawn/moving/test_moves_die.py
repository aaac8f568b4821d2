"""Whenever a move of pages is stopped, by whatever, all of it is done or nothing."""

import errno
import json
import os
import random
import shutil
from collections.abc import Callable
from itertools import count
from pathlib import Path

import pytest
from support.drawn_book import ISSUE, drawn_book, inks, move, name_of, states
from support.long import in_ci, shortened
from support.samples import DPI, contents, issue_file
from support.small_builds import FullAfter, dies_at, killed

from guidekit import InputError, MachineError
from guidekit.drawn.moving.moves import follow_pages, undo_move
from guidekit.drawn.refreshing.refresh import refresh_issue
from guidekit.store import renames
from guidekit.store.renames import DONE, LOG

DRAWN = 7
FIGHT = "# the fight\n[[pages]]\ntiers = [1, 2]\n[pages.panel.2]\nborder = false\n\n"
TALK = "[[pages]]\ncount = 5"
FIRST = ISSUE.replace(FIGHT, "").replace(TALK, FIGHT + TALK)  # page 7 is page 2

Work = Callable[[Path], object]


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """The folder of a small book, with one page that is drawn on and few others."""
    folder = drawn_book(tmp_path, [DRAWN])
    for number in (1, 3, 4, 5, 6):
        (folder / name_of(number)).unlink()
    return folder


def issue_of(folder: Path) -> Path:
    """The issue of a folder."""
    return folder.parent / "issue.toml"


def to_the_front(folder: Path) -> None:
    """Page 7 becomes page 2."""
    move(folder, DRAWN, after=1)


def undone(folder: Path) -> None:
    """The last move is taken back."""
    undo_move(issue_of(folder), folder, dpi=DPI)


def followed(folder: Path) -> None:
    """Files follow the issue's file."""
    follow_pages(issue_of(folder), folder, dpi=DPI)


def copied(out: Path, number: object) -> Path:
    """The folder with its issue in another place."""
    place = out.parent.parent / f"{out.parent.name}-{number}"
    shutil.copytree(out.parent, place)
    return place / "out"


def begun(out: Path, work: Work) -> Path:
    """The folder, ready for this work."""
    if work is undone:
        to_the_front(out)
    if work is followed:
        issue_file(out.parent, FIRST)
    return out


def pages(folder: Path) -> dict[str, bytes]:
    """Every file of a page."""
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.suffix == ".psd"}


def drawings(folder: Path) -> dict[str, bytes]:
    """Every file of a page; nothing may be there under a temporary name."""
    names = [path.name for path in folder.rglob("*") if path.is_file()]
    assert not [name for name in names if name.endswith((".held", ".part"))]
    return pages(folder)


def moved(folder: Path) -> bool:
    """Whether page 7 is page 2, for its file and what is beside it alike; it is whole."""
    names = {path.name for path in folder.iterdir() if path.name.startswith("tin-kite")}
    found = name_of(2, suffix="app") in names
    assert len(names) == 4
    assert (name_of(7, suffix="app") in names) != found
    assert inks(folder / name_of(2 if found else 7))
    return found


@pytest.mark.parametrize(
    "work", shortened([to_the_front, undone, followed], [to_the_front, undone])
)
def test_death_at_every_step(out: Path, work: Work) -> None:
    """Whichever step it dies before, the next command finds all of it done, or nothing.

    The guides of moved pages are drawn by whichever refresh comes next.
    """
    begun(out, work)
    end = copied(out, "end")
    work(end)
    wanted, drawn = drawings(end), inks(end / name_of(7 if work is undone else 2))
    seen = set()
    dead = True
    for step in count(1, in_ci(1, first=12)):
        folder = copied(out, step)
        dead = dies_at(step, folder.parent, lambda: work(folder))  # noqa: B023
        states(folder)
        seen.add(moved(folder))
        assert inks(folder / name_of(2 if moved(folder) else 7)) == drawn
        assert (work is followed) or (issue_of(folder).read_text("utf-8") != ISSUE) == moved(folder)
        if moved(folder) == (work is undone):
            work(folder)
        refresh_issue(issue_of(folder), folder, dpi=DPI)
        assert drawings(folder) == wanted
        shutil.rmtree(folder.parent)
        if not dead:
            break
    assert seen == {True, False}
    assert step > 40


@pytest.mark.parametrize("work", shortened([to_the_front, followed], [followed]))
def test_disk_full(out: Path, work: Work, monkeypatch: pytest.MonkeyPatch) -> None:
    """Wherever the disk is full, all of it is done in the end or nothing, and nothing is lost."""
    begun(out, work)
    drawn, seen, told = inks(out / name_of(7)), set[bool](), set[str]()
    for calls in count(1, in_ci(1, first=3)):
        folder = copied(out, calls)
        fsync = FullAfter(calls)
        with monkeypatch.context() as patched:
            patched.setattr(os, "fsync", fsync)
            try:
                work(folder)
            except MachineError as error:
                told.add(str(error))
        states(folder)
        seen.add(moved(folder))
        assert inks(folder / name_of(2 if moved(folder) else 7)) == drawn
        drawings(folder)
        shutil.rmtree(folder.parent)
        if fsync.left > 0:
            break
    assert seen == {True, False}
    assert all(os.strerror(errno.ENOSPC) in text for text in told)
    assert told


def test_killed_at_random(out: Path) -> None:
    """After many kills at random moments the drawing is where the issue's file says, in full."""
    drawn, moments, kills = inks(out / name_of(7)), random.Random(5), 0
    for _ in range(in_ci(500, first=10)):
        work = undone if issue_of(out).read_text("utf-8") != ISSUE else to_the_front
        kills += killed(lambda: work(out), 0.4 * moments.random() ** 2)  # noqa: B023
        states(out)
        found = moved(out)
        assert (issue_of(out).read_text("utf-8") != ISSUE) == found
        assert inks(out / name_of(2 if found else 7)) == drawn
    assert kills


def test_an_issue_saved_meanwhile(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where somebody saves the issue's file while files are renamed, all have their old names."""
    before, issue, times = contents(out), issue_of(out), count(1)
    saved = ISSUE.replace("Tin", "Thin")

    def flushed(folder: Path) -> None:
        if next(times) == 2:  # all files are held
            issue.write_text(saved, "utf-8")

    monkeypatch.setattr(renames, "flush_folder", flushed)
    with pytest.raises(MachineError, match="this file has changed just now"):
        to_the_front(out)
    assert issue.read_text("utf-8") == saved
    assert contents(out) == before


def test_a_log_that_was_not_finished(out: Path) -> None:
    """What is left of a log that was being written is removed by whatever is written next."""
    for log in (LOG, DONE):
        (out / f"{log}.part").write_bytes(b"{")
    before = pages(out)
    refresh_issue(issue_of(out), out, dpi=DPI)
    assert drawings(out) == before


@pytest.mark.parametrize("change", [{"part": "drawing.psd"}, {"part": "../issue.toml"}])
def test_a_log_that_no_move_has_written(out: Path, change: dict[str, str]) -> None:
    """A log that somebody made cannot have a file deleted; it is said what to do before it is."""
    (out / "drawing.psd").write_bytes(b"art")
    to_the_front(out)
    done: dict[str, object] = json.loads((out / DONE).read_bytes())
    (out / LOG).write_text(json.dumps(done | change) + "\n")
    before = contents(out.parent)
    told = "this record of a build cannot be read. Pages were being moved: give the files here"
    with pytest.raises(InputError, match=told):
        refresh_issue(issue_of(out), out, dpi=DPI)
    assert contents(out.parent) == before


def test_undo_of_a_move_that_was_stopped(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A move that was stopped after the moment that counts is ended before it is undone."""

    def stopped(_: object) -> None:
        raise KeyboardInterrupt

    before = {path.name for path in out.iterdir()}
    with monkeypatch.context() as held:
        held.setattr(renames, "finish", stopped)
        with pytest.raises(KeyboardInterrupt):
            to_the_front(out)
    undone(out)
    assert issue_of(out).read_text("utf-8") == ISSUE
    assert {path.name for path in out.iterdir()} - before == {DONE}
