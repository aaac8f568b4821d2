"""Pages in another order: the issue's file, every file of theirs, and what is drawn on them."""

import os
import shutil
from collections.abc import Iterator
from errno import EACCES
from itertools import count
from pathlib import Path
from signal import SIGINT

import pytest
from support.long import in_ci
from support.painting import Page, bytes_of, paths
from support.samples import DPI, contents, issue_file, run_here
from support.small_builds import dies_at

from guidekit import InputError, MachineError, build_issue
from guidekit.drawn.moves import Move, Wish, move_pages, undo_move
from guidekit.drawn.status import status_issue
from guidekit.store import renames
from guidekit.store.renames import LAST

ISSUE = """\
# a kite of tin
title = "The Tin Kite"
preset = "us-comic"   # as always

# the opening
[[pages]]
panels = "splash"

[[pages]]
count = 5   # a long talk
tiers = [2, 3, 1]
panel.1.bleed = ["top"]

# the fight
[[pages]]
tiers = [1, 2]
[pages.panel.2]
border = false

[[pages]]   # the valley
spread = true
tiers = [1, 2]

[layouts.two]
tiers = [1, 1]
"""
DRAWN = {3: 1, 7: 2}  # the numbers of pages that are drawn on, and what


def name_of(*pages: int, suffix: str = "psd") -> str:
    """The file of a page or spread."""
    return f"tin-kite-p{'-'.join(f'{page:03}' for page in pages)}.{suffix}"


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """The folder of a build of which two pages are drawn on, one of them in an app's format too."""
    folder = tmp_path / "out"
    build_issue(issue_file(tmp_path, ISSUE), folder, dpi=DPI)
    for number, seed in DRAWN.items():
        page = Page.open(folder / name_of(number))
        page.paint(page.place("Inks"), seed)
        page.save(folder / name_of(number))
    (folder / name_of(7, suffix="app")).write_bytes(b"in an app's own format")
    return folder


def move(out: Path, first: int, after: int, last: int = 0) -> Move:
    """Move pages of the issue beside the folder."""
    wish = Wish(first, last or first, after)
    return move_pages(out.parent / "issue.toml", out, wish, dpi=DPI)


def inks(path: Path) -> bytes:
    """The bytes of what is drawn in a file."""
    (found,) = [entry for name, entry in paths(Page.open(path)) if name[-1] == "Inks"]
    return bytes_of(found)


def states(out: Path) -> dict[str, str]:
    """What became of each file."""
    report = status_issue(out.parent / "issue.toml", out, dpi=DPI)
    return {file.name: file.state for file in report.files}


def test_moved_to_the_front(out: Path) -> None:
    """Drawings go with their pages, and get the label and the side of their new places."""
    drawn = {number: inks(out / name_of(number)) for number in DRAWN}
    done = move(out, 7, after=2)
    assert done.told[:2] == (
        "page 7 → page 3",
        "page 3 → page 4, now on the left: its guides are mirrored, and the art is not",
    )
    assert (name_of(7, suffix="app"), name_of(3, suffix="app")) in done.files
    assert inks(out / name_of(3)) == drawn[7]
    assert inks(out / name_of(4)) == drawn[3]
    assert (out / name_of(3, suffix="app")).read_bytes() == b"in an app's own format"
    assert states(out) == {name_of(n): "drawn" if n in (3, 4) else "empty" for n in range(1, 8)} | {
        name_of(8, 9): "empty"
    }
    report = build_issue(out.parent / "issue.toml", out, dpi=DPI)
    assert set(report.named("drawn")) == {name_of(3), name_of(4)}
    assert report.left_over == ()
    assert report.complete


def test_the_file_of_the_issue(out: Path) -> None:
    """Comments and their places stay; an entry of pages alike is divided where a page comes in."""
    move(out, 7, after=2)
    text = (out.parent / "issue.toml").read_text("utf-8")
    alike = 'tiers = [2, 3, 1]\npanel.1.bleed = ["top"]\n\n'
    fight = "# the fight\n[[pages]]\ntiers = [1, 2]\n[pages.panel.2]\nborder = false\n\n"
    assert text == (
        ISSUE.replace(fight, "").replace(
            f"[[pages]]\ncount = 5   # a long talk\n{alike}",
            f"[[pages]]\n{alike}{fight}[[pages]]\ncount = 4   # a long talk\n{alike}",
        )
    )


def test_undo(out: Path) -> None:
    """The issue's file is byte for byte what it was, and every drawing is in its old place."""
    drawn = {number: inks(out / name_of(number)) for number in DRAWN}
    before = states(out)
    move(out, 7, after=2)
    build_issue(out.parent / "issue.toml", out, dpi=DPI)
    issue = out.parent / "issue.toml"
    undo_move(issue, out, dpi=DPI)
    assert issue.read_text("utf-8") == ISSUE
    assert {number: inks(out / name_of(number)) for number in DRAWN} == drawn
    assert states(out) == before
    assert build_issue(issue, out, dpi=DPI).complete
    issue_file(out.parent, ISSUE + "# more\n")
    with pytest.raises(InputError, match="the issue was changed since the move"):
        undo_move(issue, out, dpi=DPI)


def test_put_in_and_taken_out(out: Path) -> None:
    """New pages move the others on; pages that are taken out are in a folder, and come back."""
    issue = out.parent / "issue.toml"
    drawn = {number: inks(out / name_of(number)) for number in DRAWN}
    put_in = move_pages(issue, out, Wish(after=6, new=2, like=3), dpi=DPI)
    assert put_in.told[0] == "page 7 is new"
    assert "count = 7   # a long talk" in issue.read_text("utf-8")
    assert inks(out / name_of(9)) == drawn[7]
    assert states(out)["tin-kite-p007"] == "missing"
    move_pages(issue, out, Wish(2, 3), dpi=DPI)
    assert inks(out / "removed" / name_of(3)) == drawn[3]
    assert inks(out / name_of(7)) == drawn[7]
    undo_move(issue, out, dpi=DPI)
    assert inks(out / name_of(3)) == drawn[3]
    assert states(out)[name_of(2)] == "empty"


def test_dry_run(out: Path) -> None:
    """The whole plan is shown, and nothing is changed."""
    before = contents(out.parent)
    run = run_here("move", out.parent, 7, "--after", 2, "--out", out, "--dpi", DPI, "--dry-run")
    assert (run.code, run.err) == (0, "")
    assert run.out.splitlines()[:2] == [f"{out}: 6 files would be renamed.", "  page 7 → page 3"]
    assert f"  {name_of(7)} → {name_of(3)}" in run.out.splitlines()
    assert contents(out.parent) == before


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (
            ["move", 12, "--after", 2],
            "--pages: page 12 is not in the issue. Take pages from 1 to 9.",
        ),
        (["move", "3-5", "--after", 4], "page 4 is one of those that are moved"),
        (["move", 7], "it is not said where to"),
        (["move", "7-", "--after", 1], '"7-" has no last page'),
        (["remove", "1-9"], "no page would be left"),
        (["remove", 2], "a spread would fall on pages 7 and 8, which do not face each other"),
        (["move", "--undo"], "no pages were moved here"),
    ],
)
def test_refused(out: Path, arguments: list[object], told: str) -> None:
    """What cannot be done is told, and nothing is changed."""
    before = contents(out.parent)
    verb, *rest = arguments
    run = run_here(verb, out.parent, *rest, "--out", out, "--dpi", DPI)
    assert run.code == 2
    assert told in run.err
    assert contents(out.parent) == before


def test_a_file_in_the_way(out: Path) -> None:
    """A file that has a new name already and is of no page stays, and nothing is moved."""
    (out / name_of(9)).write_bytes(b"a scan")
    before = contents(out.parent)
    wish = Wish(after=6, new=2)
    with pytest.raises(InputError, match="stands where a moved page would go"):
        move_pages(out.parent / "issue.toml", out, wish, dpi=DPI)
    assert contents(out.parent) == before


def test_files_of_another_issue(out: Path) -> None:
    """Files that were made for another issue, which is still there, are not renamed."""
    other = issue_file(out.parent, ISSUE, "other.toml")
    before = contents(out.parent)
    with pytest.raises(InputError, match="this file was made for another issue"):
        move_pages(other, out, Wish(7, 7, 2), dpi=DPI)
    assert contents(out.parent) == before


def test_death_at_every_step(out: Path) -> None:
    """Whichever step a move dies before, the next command finds all of it done, or nothing."""
    (out / name_of(3)).unlink()  # quicker with one drawing
    drawn = inks(out / name_of(7))
    done, outs, stride = 0, 0, in_ci(1, first=2)
    for step in range(1, 200, stride):
        folder = out.parent.parent / f"{out.parent.name}-{step}" / "out"
        shutil.copytree(out.parent, folder.parent)
        dies_at(step, folder.parent, lambda: move(folder, 7, after=2))  # noqa: B023
        ended = (folder / LAST).exists()  # what follows is a refresh
        found = states(folder)
        moved = (folder.parent / "issue.toml").read_text("utf-8") != ISSUE
        done, outs = done + moved * stride, outs + stride
        names = {path.name for path in folder.iterdir() if path.suffix in (".psd", ".app")}
        assert inks(folder / name_of(3 if moved else 7)) == drawn
        assert (name_of(3, suffix="app") in names) == moved
        assert len(names) == 8
        assert set(found.values()) <= {"empty", "drawn", "behind", "missing"}
        assert not [*folder.rglob("*.held")]
        shutil.rmtree(folder.parent)
        if ended:
            break
    assert 8 < done < outs - 8


def test_an_issue_saved_meanwhile(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where somebody saves the issue's file while files are renamed, all have their old names."""
    before, issue, times = contents(out), out.parent / "issue.toml", count(1)
    saved = ISSUE.replace("Tin", "Thin")

    def flushed(folder: Path) -> None:
        if next(times) == 2:  # all files are held
            issue.write_text(saved, "utf-8")

    monkeypatch.setattr(renames, "flush_folder", flushed)
    with pytest.raises(MachineError, match="this file has changed just now"):
        move(out, 7, after=2)
    assert issue.read_text("utf-8") == saved
    assert contents(out) == before


def test_undo_of_a_move_that_was_stopped(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A move that was stopped after the moment that counts is ended before it is undone."""
    before = {path.name for path in out.iterdir()}
    with monkeypatch.context() as stopped:
        stopped.setattr(renames, "finish", lambda ledger: os.kill(os.getpid(), SIGINT))
        with pytest.raises(KeyboardInterrupt):
            move(out, 7, after=2)
    undo_move(out.parent / "issue.toml", out, dpi=DPI)
    assert (out.parent / "issue.toml").read_text("utf-8") == ISSUE
    assert {path.name for path in out.iterdir()} - before == {LAST}


def test_a_folder_that_cannot_be_listed(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The folder is named with the machine's reason, and nothing is moved."""

    def refused(folder: Path) -> Iterator[Path]:
        raise PermissionError(EACCES, "Permission denied")

    before = contents(out.parent)
    with monkeypatch.context() as machine:
        machine.setattr(Path, "iterdir", refused)
        with pytest.raises(MachineError, match=f"reading the folder {out}: Permission denied"):
            move(out, 7, after=2)
    assert contents(out.parent) == before
