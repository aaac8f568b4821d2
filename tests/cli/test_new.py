"""``guidekit new``: a text file that is right from the start, and that replaces nothing."""

import os
import shlex
from pathlib import Path

import pytest
from support.catalogue import PRESETS
from support.samples import DPI, RECORD, contents, run_here, run_process

from guidekit import build_issue, load_issue, measure_issue


@pytest.mark.parametrize("preset", PRESETS)
def test_every_preset(tmp_path: Path, preset: str) -> None:
    """A new issue of each shipped preset can be built as it is."""
    path = tmp_path / "harbour" / "harbour.toml"
    run = run_here("new", tmp_path / "harbour", "--preset", preset, "--pages", 3)
    assert run == (0, f"{path}: 3 pages of {preset}. Next: guidekit build {path}\n", "")
    small = 1 if preset == "vertical-scroll" else 3  # a canvas in px is as large at any dpi
    run = run_here("build", path, "--out", tmp_path / "out", "--dpi", DPI, "--pages", f"1-{small}")
    assert (run.code, run.err) == (0, "")
    names = [f"harbour-p00{page}.psd" for page in range(1, small + 1)]
    assert sorted(contents(tmp_path / "out")) == [RECORD, *names]


@pytest.mark.parametrize(
    ("preset", "pages", "panels"),
    [
        ("us-comic", 24, [1, 6, 6]),  # five to nine panels a page: common practice, no source
        ("jis-b5", 16, [1, 5, 5]),  # five to seven: common practice, no source
        ("album-240x320", 48, [1, 10, 10]),  # four tiers of two to four: common practice, no source
        ("zine-8-page-letter", 8, [1, 6, 6]),  # one sheet folded three times: 2 × 2 × 2
        ("daily-strip", 6, [4, 4, 4]),  # Monday to Saturday: common practice, no source
        ("four-panel-strip", 8, [8, 8, 8]),  # two strips of four: common practice, no source
    ],
)
def test_what_suits_the_format(tmp_path: Path, preset: str, pages: int, panels: list[int]) -> None:
    """Without --pages there are as many as suit the format, with panels that suit it."""
    path = tmp_path / "x" / "x.toml"
    run = run_here("new", tmp_path / "x", "--preset", preset)
    assert run.out == f"{path}: {pages} pages of {preset}. Next: guidekit build {path}\n"
    found = measure_issue(path)["pages"]
    assert len(found) == pages
    assert [len(page["panels"]) for page in found[:3]] == panels


def test_strips_get_their_strip(tmp_path: Path) -> None:
    """A daily strip is one tier; of two strips of four the right one is read first, downward."""
    for preset in ("daily-strip", "four-panel-strip"):
        run_here("new", tmp_path / preset, "--preset", preset)
    daily, four = (
        [panel["box"] for panel in measure_issue(tmp_path / p / f"{p}.toml")["pages"][0]["panels"]]
        for p in ("daily-strip", "four-panel-strip")
    )
    assert len({(top, bottom) for _, top, _, bottom in daily}) == 1
    assert [box[0] for box in four] == [four[0][0]] * 4 + [four[4][0]] * 4
    assert four[0][0] > four[4][0]
    assert [box[1] for box in four[:4]] == sorted(box[1] for box in four[:4])


def test_a_scroll_gets_a_scroll(tmp_path: Path) -> None:
    """A new vertical scroll is a scroll with gaps of several kinds, on as many pages as wanted."""
    path = tmp_path / "x" / "x.toml"
    run = run_here("new", tmp_path / "x", "--preset", "vertical-scroll")
    assert run.out.startswith(f"{path}: 1 page of vertical-scroll.")
    (page,) = load_issue(path).issue.pages
    assert page.scroll
    assert {item.gap for item in page.scroll} == {None, "scene", "close"}
    run_here("new", tmp_path / "y", "--preset", "vertical-scroll", "--pages", 2)
    assert [bool(page.scroll) for page in load_issue(tmp_path / "y" / "y.toml").issue.pages] == [
        True,
        True,
    ]


@pytest.mark.parametrize("pages", [1, 2, 24, 9999])
def test_number_of_pages(tmp_path: Path, pages: int) -> None:
    """The issue has as many pages as were asked for."""
    assert run_here("new", tmp_path / "x", "--pages", pages).code == 0
    assert load_issue(tmp_path / "x" / "x.toml").entries[-1].numbers == (pages,)


@pytest.mark.parametrize("pages", [0, -1, 10_000, 10_000_000])
def test_absurd_number_of_pages(tmp_path: Path, pages: int) -> None:
    """No pages, or more than 9,999, are refused, and no folder is made."""
    run = run_here("new", tmp_path / "x", "--pages", pages)
    said = f"guidekit: --pages: {pages} is not a number of pages. Write 1 to 9,999 pages.\n"
    assert run == (2, "", said)
    assert not (tmp_path / "x").exists()


def test_unknown_preset(tmp_path: Path) -> None:
    """An unknown preset is refused with the nearest name, and no folder is made."""
    run = run_here("new", tmp_path / "x", "--preset", "jis-b55")
    assert run.code == 2
    assert run.err == ('guidekit: --preset: there is no preset "jis-b55". Did you mean "jis-b5"?\n')
    assert not (tmp_path / "x").exists()


@pytest.mark.parametrize(
    ("name", "there", "todo"),
    [
        ("glass-harbour.toml", False, "Name glass-harbour."),
        ("glass-harbour.toml", True, "Name glass-harbour."),
        ("notes", True, "Name a folder, there or still to be made."),
    ],
)
def test_a_file_in_place_of_a_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str, there: bool, todo: str
) -> None:
    """Who names a file is told which folder to name, and nothing is written."""
    monkeypatch.chdir(tmp_path)
    if there:
        (tmp_path / name).write_text("mine", "utf-8")
    run = run_here("new", name)
    assert run == (2, "", f"guidekit: {name} is the name of a file. {todo}\n")
    assert [path.name for path in tmp_path.iterdir()] == [name] * there


def test_never_overwrites(tmp_path: Path) -> None:
    """A file that is there is left as it is, whatever it holds."""
    (tmp_path / "x").mkdir()
    path = tmp_path / "x" / "x.toml"
    path.write_bytes(b"mine")
    run = run_here("new", tmp_path / "x")
    said = f"{path}: this file is there already. Choose another name, or another folder."
    assert run == (2, "", f"guidekit: {said}\n")
    assert contents(tmp_path / "x").keys() == {"x.toml"}
    assert path.read_bytes() == b"mine"


def test_never_follows_a_link(tmp_path: Path) -> None:
    """A link in the place of the file, even one that leads nowhere, is left as it is."""
    (tmp_path / "x").mkdir()
    (tmp_path / "x" / "x.toml").symlink_to(tmp_path / "elsewhere")
    assert run_here("new", tmp_path / "x").code == 2
    assert not (tmp_path / "elsewhere").exists()


def test_file_that_comes_up_meanwhile(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A file that comes up while the new one is written is not replaced."""
    path = tmp_path / "x" / "x.toml"
    monkeypatch.setattr(os, "fsync", lambda _: path.write_bytes(b"mine"))
    assert run_here("new", tmp_path / "x").code == 2
    assert {file.name: file.read_bytes() for file in path.parent.iterdir()} == {"x.toml": b"mine"}


@pytest.mark.parametrize(
    ("folder", "title"),
    [
        ("glass-harbour", "Glass Harbour"),
        ("the_salt_road", "The Salt Road"),
        ("塩の道", "塩の道"),
        ("hello world", "Hello World"),
        ('say "yes"', 'Say "Yes"'),
    ],
)
def test_title_from_the_folder(tmp_path: Path, folder: str, title: str) -> None:
    """Without --title the folder's name becomes the title."""
    assert run_here("new", tmp_path / folder).code == 0
    assert load_issue(tmp_path / folder / f"{folder}.toml").issue.title == title


@pytest.mark.parametrize(
    "title",
    [
        'Say "yes"',
        "back\\slash",
        "'''",
        '"""',
        "# no comment",
        "{title}",
        "%s",
        "塩 🐪",
        "x" * 250,
        "",
        "  ",
        "two\nlines",
        "tab\t",
        "delete\x7f",
        "null\0",
        "x" * 251,
    ],
    ids=lambda title: title[:10],
)
def test_any_title(tmp_path: Path, title: str) -> None:
    """Any title either stands in the new file as it was given, or is refused and nothing made."""
    run = run_here("new", tmp_path / "x", "--title", title)
    if run.code == 0:
        assert load_issue(tmp_path / "x" / "x.toml").issue.title == title
    else:
        assert run.code == 2
        assert run.err.startswith("guidekit: --title: ")
        assert not (tmp_path / "x").exists()


def test_preset_of_ones_own(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A preset given by its path is found again when the new issue is built."""
    monkeypatch.chdir(tmp_path)
    Path("mine.toml").write_text('based_on = "us-comic"\n', "utf-8")
    assert run_here("new", "x", "--preset", "mine.toml", "--pages", 1).code == 0
    assert build_issue("x/x.toml", "out", dpi=DPI).named("written") == ("x-p001.psd",)


def test_folder_of_the_moment(tmp_path: Path) -> None:
    """A new issue in "." is named after the folder that this is."""
    (tmp_path / "salt-road").mkdir()
    run = run_process(["new", "."], tmp_path / "salt-road")
    assert run.out == "salt-road.toml: 24 pages of us-comic. Next: guidekit build salt-road.toml\n"
    assert load_issue(tmp_path / "salt-road" / "salt-road.toml").issue.title == "Salt Road"


def test_next_step_as_printed(tmp_path: Path) -> None:
    """What the command says to do next works as printed, with a space in the name too."""
    run = run_process(["new", "two words", "--pages", 1], tmp_path)
    assert "Next: " in run.out
    words = run.out.partition("Next: guidekit ")[2].strip()
    assert run_process([*shlex.split(words), "--dpi", DPI], tmp_path).code == 0
