"""Files follow pages that were moved or renamed by hand in the issue's file."""

import json
from pathlib import Path

import pytest
from support.drawn_book import ISSUE, TWO_MORE, draw_on, drawn_book, inks, move, name_of, states
from support.samples import DPI, RECORD, issue_file, run_here

from guidekit import InputError, build_issue
from guidekit.drawn.moving.moves import follow_pages, undo_move
from guidekit.drawn.standing.status import status_issue

FIGHT = name_of(7)


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """The folder of a build of which two pages are drawn on."""
    return drawn_book(tmp_path)


def test_moved_by_hand(out: Path) -> None:
    """Pages put in another order in the issue's file are known again; their files may follow."""
    issue = issue_file(out.parent, TWO_MORE)
    art, drawn = inks(out / name_of(7)), (out / name_of(7)).read_bytes()
    build_issue(issue, out, dpi=DPI)
    report = status_issue(issue, out, dpi=DPI)
    (fight,) = [file for file in report.files if file.name == name_of(7)]
    assert (fight.state, fight.changed) == ("behind", ("its page is page 9 now",))
    run = run_here("refresh", issue, "--out", out, "--dpi", DPI)
    assert run.code == 1
    assert run.err.startswith(
        f"guidekit: {name_of(7)}, page 7: its page is page 9 now. Let files follow their pages: "
        f"guidekit move --by-hand {issue} --out {out}. If it is page 7 all the same, name it: "
        "--pages 7."
    )
    with pytest.raises(InputError, match="put in another order by hand"):
        move(out, 2, after=5)
    done = follow_pages(issue, out, dpi=DPI)
    assert "page 7 → page 9" in done.told
    assert inks(out / name_of(9)) == art
    assert states(out)[name_of(9)] == "drawn"
    assert states(out)[name_of(3)] == "drawn"
    assert follow_pages(issue, out, dpi=DPI).files == ()
    undo_move(issue, out, dpi=DPI)
    assert (out / name_of(7)).read_bytes() == drawn
    assert follow_pages(issue, out, dpi=DPI).files == done.files


def test_undone_after_drawing_on(out: Path) -> None:
    """What was drawn on since it followed its page gets its old name back, and nothing else."""
    issue = issue_file(out.parent, TWO_MORE)
    follow_pages(issue, out, dpi=DPI)
    draw_on(out / name_of(9), 8)
    followed = (out / name_of(9)).read_bytes()
    refreshed = undo_move(issue, out, dpi=DPI).refreshed
    assert refreshed
    assert [file.name for file in refreshed.named("refused")] == [name_of(7)]
    assert (out / name_of(7)).read_bytes() == followed


def test_another_title(out: Path) -> None:
    """Files of an issue that has another title now may follow it, blank ones give way, and back."""
    old, art = {path.name: path.read_bytes() for path in out.glob("tin-kite-*")}, inks(out / FIGHT)
    issue = issue_file(out.parent, ISSUE.replace("The Tin Kite", "The Copper Kite"))
    report = status_issue(issue, out, dpi=DPI)
    assert set(report.renamed) == {name for name in old if name.endswith("psd")}
    run = run_here("build", issue, "--out", out, "--dpi", DPI)
    told = "The issue's name has changed since 8 files got theirs: guidekit move --by-hand"
    hint = f"{told} {issue} --out {out} lets them follow it."
    assert hint in run.out
    with pytest.raises(InputError, match="given another name"):
        move(out, 2, after=5)
    plan = follow_pages(issue, out, dpi=DPI, dry_run=True)
    done = follow_pages(issue, out, dpi=DPI)
    assert (done.files, done.told) == (plan.files, ())
    assert inks(out / "copper-kite-p007.psd") == art
    assert (out / "copper-kite-p007.app").read_bytes() == old[name_of(7, suffix="app")]
    assert not [*out.glob("tin-kite-*")]
    assert set(states(out).values()) == {"drawn", "empty"}
    assert status_issue(issue, out, dpi=DPI).renamed == ()
    assert undo_move(issue, out, dpi=DPI).told == ()
    assert inks(out / FIGHT) == art


@pytest.mark.parametrize("built", [False, True])
def test_another_title_at_a_refresh(out: Path, built: bool) -> None:
    """A refresh that finds no drawing under the new name tells where they are, and how they follow.

    So it does where blank pages of the new name are there.
    """
    issue = issue_file(out.parent, ISSUE.replace("The Tin Kite", "The Copper Kite"))
    if built:
        build_issue(issue, out, dpi=DPI)
    told = (
        "The issue's name has changed since 8 files got theirs: guidekit move --by-hand "
        f"{issue} --out {out} lets them follow it."
    )
    asked = "refresh", issue, "--out", out, "--dpi", DPI
    run = run_here(*asked)
    assert (run.code, run.out.splitlines()[1:]) == (0, [f"  {told}"])
    lines = [json.loads(line) for line in run_here(*asked, "--json").out.splitlines()]
    assert [line["text"] for line in lines if line["event"] == "warning"] == [told]
    follow_pages(issue, out, dpi=DPI)
    assert "has changed" not in run_here(*asked).out


@pytest.mark.parametrize(
    "change", ["other panels", "fewer pages", "drawn under the new name", "nothing told of pages"]
)
def test_another_title_and_more(out: Path, change: str) -> None:
    """Where not every file has its page under the new name, none is taken for it."""
    text = ISSUE.replace("The Tin Kite", "The Copper Kite")
    if change == "other panels":
        text = text.replace("tiers = [1, 2]\n[pages.panel.2]", "tiers = [4, 3]\n[pages.panel.2]")
    if change == "fewer pages":
        text = text.replace("count = 5", "count = 3")
    issue = issue_file(out.parent, text)
    if change == "drawn under the new name":
        build_issue(issue, out, dpi=DPI, pages=[3])
        draw_on(out / "copper-kite-p003.psd", 3)
    if change == "nothing told of pages":
        record = json.loads((out / RECORD).read_text("utf-8"))
        (out / RECORD).write_text(json.dumps(record | {"infos": {}}), "utf-8")
    assert status_issue(issue, out, dpi=DPI).renamed == ()
    assert follow_pages(issue, out, dpi=DPI, dry_run=True).files == ()


def test_moved_by_hand_without_a_record(out: Path) -> None:
    """The files themselves tell who they are when the record is lost."""
    (out / ".guidekit.json").unlink()
    issue = issue_file(out.parent, ISSUE.replace("count = 5", "count = 4"))
    with pytest.raises(InputError, match="do not face each other"):
        follow_pages(issue, out, dpi=DPI)
    issue = issue_file(out.parent, ISSUE.replace("count = 5", "count = 3"))
    done = follow_pages(issue, out, dpi=DPI, dry_run=True)
    assert (name_of(7), name_of(5)) in done.files
    assert (name_of(8, 9), name_of(6, 7)) in done.files
