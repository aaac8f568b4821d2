"""What an issue has from its series, and its fonts, are held still as well."""

import shutil
from pathlib import Path

import pytest
from support.fonts import font_file
from support.homes import Home, home, house, written
from support.locked_issue import canvases, colleague
from support.silent_drive import silent

SERIES = 'preset = "house"\nlabel_font = "ours.ttf"\n[format]\ngutter = "{gutter}"\n'
IN_SERIES = 'title = "Cards"\nseries = "../series.toml"\n[[pages]]\ntiers = [2]\n'


@pytest.fixture
def author(tmp_path: Path) -> Home:
    """A maker whose issue has its preset, a gutter and a font by its series, and its lock."""
    author = home(tmp_path, "author")
    written(author.studio / "house.toml", house())
    font_file(author.studio / "ours.ttf", "Page 1".replace(" ", ""))
    author.write("series.toml", SERIES.format(gutter="8 px"))
    author.write("desk/cards.toml", IN_SERIES)
    assert author.run("lock", "cards.toml").out == (
        "cards.lock.json: 1 preset, 1 series, 1 font.\n"
        "Caution: the font ours.ttf does not lie beside the issue. Copy it there, if you may.\n"
    )
    return author


def test_a_series_is_held_too(author: Home) -> None:
    """With its lock an issue needs no series, and none that has moved on; that is told."""
    first = canvases(author)
    other = colleague(author, "inker")
    shutil.copy(author.studio / "ours.ttf", other.desk)
    assert canvases(other) == first
    more = 'issues = ["desk/cards.toml", "more.toml"]\n' + SERIES
    other.write("series.toml", more.format(gutter="8 px"))
    assert other.run("check", "cards.toml").err == ""
    other.write("series.toml", SERIES.format(gutter="12 px"))
    assert canvases(other) == first
    moved, without = other.run("check", "cards.toml").err.splitlines()
    assert moved == (
        'Warning: The series "../series.toml" has moved on: format { gutter = "8 px" } → '
        '{ gutter = "12 px" }. The locked one is used.'
    )
    assert (
        'now the issue could not be built: series.toml, line 1, preset: there is no preset "h'
        in without
    )
    written(other.studio / "house.toml", house())
    assert "1 of 1 pages would change with it" in other.run("check", "cards.toml").err
    assert other.run("lock", "cards.toml", "--update").code == 0
    assert canvases(other) != first


def test_a_series_on_a_drive_that_is_gone(author: Home, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nobody waits for ever for a series that an issue with its lock does not need."""
    silent(monkeypatch, "pathlib.Path.read_bytes", "series.toml")
    run = author.run("check", "cards.toml")
    assert (run.code, run.err) == (0, "")


def test_a_font_is_known_by_its_bytes(author: Home) -> None:
    """Another font of the same name is told; a lock without it says that it is not locked."""
    font_file(author.studio / "ours.ttf", "Page1", side=500)
    told = (
        'Warning: The font "ours.ttf" is another one here than in the lock: letters may differ. '
        "Put ours.ttf as it was beside the issue.\n"
    )
    assert author.run("check", "cards.toml").err == told
    assert author.run("lock", "cards.toml").out.startswith("cards.lock.json: 1 preset, 1 series, 1")
    assert author.run("check", "cards.toml").err == told
    assert author.run("lock", "cards.toml", "--update").code == 0
    assert author.run("check", "cards.toml").err == ""
    author.write("desk/cards.toml", IN_SERIES.replace("[[", '[folios]\nfont = "ours.ttf"\n[[', 1))
    assert author.run("check", "cards.toml").err == ""
    shutil.copy(author.studio / "ours.ttf", author.desk / "mine.ttf")
    author.write("desk/cards.toml", IN_SERIES.replace("[[", '[folios]\nfont = "mine.ttf"\n[[', 1))
    assert 'Not locked: font "mine.ttf". To lock' in author.run("check", "cards.toml").err
