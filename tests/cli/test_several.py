"""Commands that take a series: all its issues, each in its place, or none of them."""

import json
from pathlib import Path

import pytest
from support.samples import contents, run_here

from guidekit.build import build_issue

SERIES = (
    'title = "Lantern Row"\npreset = "us-comic"\nformat.dpi = 30\nissues = ["one", "two/b.toml"]\n'
)
ISSUE = 'series = "../series.toml"\nnumber = {}\n[[pages]]\npanels = "splash"\n'


@pytest.fixture
def series(tmp_path: Path) -> Path:
    """The file of a series of two issues, each in its folder."""
    for number, name in enumerate(("one/a.toml", "two/b.toml"), 1):
        (tmp_path / name).parent.mkdir()
        (tmp_path / name).write_text(ISSUE.format(number))
    path = tmp_path / "series.toml"
    path.write_text(SERIES)
    return path


def test_a_build_takes_all_of_them(series: Path) -> None:
    """By the series' file as by its folder: each beside its own file, as a build of it alone."""
    assert run_here("build", series).code == 0
    for name in ("one", "two"):
        (built,) = (folder for folder in (series.parent / name).iterdir() if folder.is_dir())
        alone = series.parent / "alone" / name
        build_issue(series.parent / name, alone)
        pages = {n: d for n, d in contents(built).items() if n.endswith(".psd")}
        assert pages == {n: d for n, d in contents(alone).items() if n.endswith(".psd")}
        assert len(pages) == 1
    again = run_here("build", series.parent)
    assert again.out.count("1 unchanged") == 2


def test_each_has_its_own_folder_and_its_own_picture(series: Path) -> None:
    """Where one place is named for all, their names keep them apart; status finds them there."""
    place = series.parent / "pages"
    assert run_here("build", series, "--out", place).code == 0
    names = sorted(folder.name for folder in place.iterdir())
    assert names == ["lantern-row-01", "lantern-row-02"]
    reports = json.loads(run_here("status", series, "--out", place, "--json").out)["issues"]
    assert [report["counts"] for report in reports] == [{"empty": 1}] * 2
    picture = series.parent / "book.html"
    assert run_here("overview", series, "--out", picture, "--canvases", place).code == 0
    for name in names:
        assert "not drawn yet" in picture.with_stem(f"book-{name}").read_text()
    assert run_here("overview", series, "--text").out.count("│1") == 2
    checked = json.loads(run_here("check", series, "--json").out)["issues"]
    assert [Path(report["issue"]).name for report in checked] == ["a.toml", "b.toml"]


def test_what_is_wrong_in_one_stops_all(series: Path) -> None:
    """Problems of all issues come together, and nothing of any is written."""
    for name in ("one/a.toml", "two/b.toml"):
        (series.parent / name).write_text(ISSUE.format('"x"'))
    before = contents(series.parent)
    run = run_here("build", series)
    assert run.code == 2
    assert "a.toml, line 2" in run.err
    assert "b.toml, line 2" in run.err
    assert contents(series.parent) == before


def test_overviews_are_made_before_any_is_written(series: Path) -> None:
    """What is wrong in the second issue leaves no picture of the first."""
    (series.parent / "two/b.toml").write_text(ISSUE.format('"x"'))
    before = contents(series.parent)
    assert run_here("overview", series, "--out", series.parent / "book.html").code == 2
    assert contents(series.parent) == before


def test_no_overview_is_replaced_before_all_may_be(series: Path) -> None:
    """A second picture that somebody else made keeps the first as it is, too."""
    picture = series.parent / "book.html"
    assert run_here("overview", series, "--out", picture).code == 0
    (series.parent / "one/a.toml").write_text(ISSUE.format(1) + "count = 2\n")
    other = picture.with_stem("book-lantern-row-02")
    other.write_text("a page of somebody's own")
    before = contents(series.parent)
    run = run_here("overview", series, "--out", picture)
    assert (run.code, run.out) == (2, "")
    assert run.err.startswith(f"guidekit: {other}: this file is there already, and it is not as ")
    assert contents(series.parent) == before


def test_what_is_wrong_for_all_is_told_once(series: Path) -> None:
    """A value in the file of the series, and an option, are no problem of each issue."""
    assert run_here("overview", series, "--out", "book.xyz").err.count("no kind of overview") == 1
    bare = run_here("overview", series, "--out", "book")
    assert (bare.code, "--out: a name without an ending is no kind of" in bare.err) == (2, True)
    series.write_text(SERIES + "zzz = 1\n")
    assert run_here("check", series).err.count("series.toml, line 5, zzz") == 1


def test_problems_come_in_the_order_of_issues(series: Path) -> None:
    """What is wrong for all stands with the first issue, before what is wrong in the second."""
    for name in ("one/a.toml", "two/b.toml"):
        (series.parent / name).write_text(ISSUE.format('"x"'))
    series.write_text(SERIES.replace("us-comic", "no-comic"))
    err = run_here("check", series).err
    places = [err.index(place) for place in ("a.toml, line 2", "series.toml, line 2", "b.toml")]
    assert places == sorted(places)


@pytest.mark.parametrize(("command", "out"), [("build", "pages"), ("overview", "book.html")])
def test_two_of_one_name_have_no_place_in_common(series: Path, command: str, out: str) -> None:
    """The files of one would be taken for those of the other; nothing is written."""
    (series.parent / "two/b.toml").write_text(ISSUE.format(1))
    before = contents(series.parent)
    run = run_here(command, series, "--out", series.parent / out)
    assert run.code == 2
    assert 'both called "lantern-row-01"' in run.err
    assert contents(series.parent) == before
    assert run_here("build", series).code == 0


@pytest.mark.parametrize(
    ("listed", "told"),
    [
        ('["one", "three"]', "series.toml, line 4, issues[2]: there is no file"),
        ('["one", "one/a.toml"]', 'issues[2]: "one/a.toml" is here already'),
        ('["one", 2]', "issues[2]: 2 is not text in quotes"),
        ("[]", "issues: this list is empty"),
        ('["one", "other"]', "does not say that it is of this series"),
    ],
)
def test_what_is_no_issue_of_it_is_told(series: Path, listed: str, told: str) -> None:
    """Missing files, one named twice, one that names another series or none; each by its line."""
    (series.parent / "other").mkdir()
    own = ISSUE.format(1).replace("../series.toml", "../two/b.toml")
    (series.parent / "other" / "own.toml").write_text(own)
    series.write_text(SERIES.replace('["one", "two/b.toml"]', listed))
    run = run_here("check", series)
    assert run.code == 2
    assert told in run.err


def test_other_commands_ask_for_one(series: Path) -> None:
    """What takes one issue says that this is a series, and so do lines of JSON."""
    assert "a series and not an issue. Name one of its issues." in run_here("dummy", series).err
    assert "Name one of its issues" in run_here("build", series, "--json").out


def test_a_font_that_no_issue_finds_is_told_once(series: Path) -> None:
    """What the series names and nothing has is one problem, wherever its issues lie."""
    series.write_text(f'label_font = "nowhere.ttf"\n{SERIES}')
    run = run_here("check", series)
    assert run.code == 2
    assert run.err.startswith("guidekit: series.toml, line 1, label_font: there is no font ")
    assert run.err.count("\n") == 1
