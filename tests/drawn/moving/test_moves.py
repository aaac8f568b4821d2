"""Pages in another order: the issue's file, every file of theirs, and what is drawn on them."""

from collections.abc import Iterator
from errno import EACCES
from pathlib import Path

import pytest
from support.drawn_book import (
    DRAWN,
    ISSUE,
    TWO_MORE,
    draw_on,
    drawn_book,
    inks,
    move,
    name_of,
    states,
)
from support.samples import DPI, contents, issue_file, run_here

from guidekit import InputError, MachineError, build_issue
from guidekit.drawn.moving import renaming
from guidekit.drawn.moving.moves import Moved, PutIn, TakenOut, follow_pages, move_pages, undo_move
from guidekit.drawn.moving.new_names import refuse_unfit
from guidekit.drawn.refreshing.refresh import refresh_issue, undo_refresh
from guidekit.drawn.refreshing.refresh_report import RefreshReport
from guidekit.store.folder import Store


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """The folder of a build of which two pages are drawn on."""
    return drawn_book(tmp_path)


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


def test_undo_step_by_step(out: Path) -> None:
    """Moves are taken back one by one, each with what was drawn since, up to a change by hand."""
    issue = out.parent / "issue.toml"
    texts = [ISSUE]
    for wish in (Moved([7], 2), PutIn(3, 2), TakenOut([1, 2])):
        move_pages(issue, out, wish, dpi=DPI)
        texts.append(issue.read_text("utf-8"))
    build_issue(issue, out, dpi=DPI)
    draw_on(out / name_of(3), 5)  # one of those that were put in
    draw_on(out / name_of(5), 6)  # page 4 of old
    art = {number: inks(out / name_of(number)) for number in (3, 5)}
    issue_file(out.parent, texts[3] + "# by hand\n")
    with pytest.raises(InputError, match="the issue was changed since the move"):
        undo_move(issue, out, dpi=DPI)
    issue_file(out.parent, texts[3])
    for text in texts[2::-1]:
        undo_move(issue, out, dpi=DPI)
        assert issue.read_text("utf-8") == text
    assert inks(out / name_of(4)) == art[5]
    assert inks(out / "removed" / name_of(5)) == art[3]
    assert states(out)[name_of(1)] == "empty"
    with pytest.raises(InputError, match="no pages were moved here"):
        undo_move(issue, out, dpi=DPI)


def test_undo_leaves_a_cover_alone(out: Path) -> None:
    """A cover that the series has got since the move is of no page, and stays."""
    issue, series = out.parent / "issue.toml", out.parent / "series.toml"
    series.write_text('binding = { kind = "saddle-stitch" }\n', "utf-8")
    issue_file(out.parent, f'series = "series.toml"\n{ISSUE}')
    move(out, 7, after=2)
    series.write_text('binding = { kind = "saddle-stitch" }\ncover.wrap = true\n', "utf-8")
    build_issue(issue, out, dpi=DPI)
    covers = {path.name for path in out.glob("*cover*")}
    assert covers
    undo_move(issue, out, dpi=DPI)
    assert {path.name for path in out.glob("*cover*")} == covers


def test_refresh_undone_after_a_move(out: Path) -> None:
    """What a refresh has replaced is put back where its page is now."""
    issue = out.parent / "issue.toml"
    wider = ISSUE.replace('"us-comic"', '"us-comic"\nformat.gutter = "0.3 in"')
    old = (out / name_of(3)).read_bytes()
    issue_file(out.parent, wider)
    refresh_issue(issue, out, dpi=DPI)
    with pytest.MonkeyPatch.context() as quiet:  # with no refresh of its own
        quiet.setattr(renaming, "refresh_issue", lambda *_, **__: RefreshReport(out, ()))
        move(out, 7, after=2)
    assert [file.name for file in undo_refresh(issue, out).named("put back")] == [
        name_of(4),
        name_of(3),
    ]
    assert (out / name_of(4)).read_bytes() == old


def test_a_folder_that_cannot_be_written_to(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Where pages that are taken out cannot go, it is told which folder it is, and all stays."""

    def refused(folder: Path, **_: object) -> None:
        raise PermissionError(EACCES, "Permission denied", str(folder))

    before = contents(out.parent)
    with monkeypatch.context() as machine:
        machine.setattr(Path, "mkdir", refused)
        told = f"moving pages, {out / 'removed'}: Permission denied"
        with pytest.raises(MachineError, match=told):
            move_pages(out.parent / "issue.toml", out, TakenOut([2, 3]), dpi=DPI)
    assert contents(out.parent) == before


def test_files_that_come_meanwhile(out: Path) -> None:
    """A file that an app saves after the plan was made is not left behind: it is made anew."""
    with pytest.MonkeyPatch.context() as patch:
        real = refuse_unfit

        def saved(store: Store, files: tuple[tuple[str, str], ...], rewritten: Path) -> None:
            real(store, files, rewritten)
            (out / name_of(3, suffix="app")).write_bytes(b"")

        patch.setattr(renaming, "refuse_unfit", saved)
        with pytest.raises(MachineError, match="its files have changed just now"):
            move(out, 7, after=2)
    assert states(out)[name_of(3)] == "drawn"
    assert (out.parent / "issue.toml").read_text("utf-8") == ISSUE


def test_put_in_and_taken_out(out: Path) -> None:
    """New pages move the others on; pages that are taken out are in a folder, and come back."""
    issue = out.parent / "issue.toml"
    drawn = {number: inks(out / name_of(number)) for number in DRAWN}
    put_in = move_pages(issue, out, PutIn(6, 2, like=3), dpi=DPI)
    assert put_in.told[0] == "page 7 is new"
    assert "count = 7   # a long talk" in issue.read_text("utf-8")
    assert inks(out / name_of(9)) == drawn[7]
    assert states(out)["tin-kite-p007"] == "missing"
    move_pages(issue, out, TakenOut([2, 3]), dpi=DPI)
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


def test_files_that_lie_elsewhere(out: Path) -> None:
    """Where no build was made in the folder, it is told that only the issue's file has changed."""
    text = (out.parent / "issue.toml").read_bytes()
    run = run_here("move", out.parent, 7, "--after", 2)
    assert run.out.splitlines()[-2:] == [
        "  No build was made there, and only the issue's file has changed.",
        "  If the pages lie elsewhere, take that back with --undo, and name their folder with"
        " --out.",
    ]
    run_here("move", out.parent, "--undo")
    assert (out.parent / "issue.toml").read_bytes() == text
    assert "No build" not in run_here("move", out.parent, 7, "--after", 2, "--out", out).out


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        (
            ["move", 12, "--after", 2],
            "--pages: page 12 is not in the issue. Take pages from 1 to 9.",
        ),
        (["move", "3-5", "--after", 4], "page 4 is one of those that are moved"),
        (["move", 7], "it is not said where to"),
        (["move", 0, "--after", 1], "page 0 is not in the issue"),
        (["move", 2, "--after", 10], "--after: page 10 is not in the issue"),
        (["move", 2, "--after", 4, "--undo"], "--undo is for what was moved already"),
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
    wish = PutIn(6, 2)
    with pytest.raises(InputError, match="stands where a moved page would go"):
        move_pages(out.parent / "issue.toml", out, wish, dpi=DPI)
    assert contents(out.parent) == before


def test_a_file_that_is_read_only(out: Path) -> None:
    """The file of an issue that is read-only is not replaced, not even where its folder allows it.

    Files that follow what was done by hand leave it as it is, and are renamed.
    """
    issue = issue_file(out.parent, ISSUE)
    issue.chmod(0o444)
    before = contents(out.parent)
    run = run_here("move", issue, 7, "--after", 2, "--out", out, "--dpi", DPI)
    told = f"guidekit: {issue}: this file is read-only. Make it writable, and run again.\n"
    assert (run.code, run.err) == (2, told)
    assert contents(out.parent) == before
    issue.chmod(0o644)
    issue_file(out.parent, TWO_MORE)
    issue.chmod(0o444)
    assert follow_pages(issue, out, dpi=DPI).files


def test_files_of_another_issue(out: Path) -> None:
    """Files that were made for another issue, which is still there, are not renamed."""
    other = issue_file(out.parent, ISSUE, "other.toml")
    before = contents(out.parent)
    with pytest.raises(InputError, match="this file was made for another issue"):
        move_pages(other, out, Moved([7], 2), dpi=DPI)
    assert contents(out.parent) == before


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
