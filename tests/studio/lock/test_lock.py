"""Holding still: what an issue uses is locked, whatever becomes of the studio's format."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from support.fonts import font_file
from support.homes import Home, home, house, written
from support.plugin_files import installed_plugin, path_with, told_by
from support.samples import contents

ISSUE = """title = "Cards"
preset = "house"
[[pages]]
panels = "pair"
[[pages]]
count = 2
tiers = [1]
"""
PAIR = '[pair]\nabout = "Two."\ntiers = [{tiers}]\n'
FORMATS = "psd,png,svg"


@pytest.fixture
def maker(tmp_path: Path) -> Home:
    """A maker with a studio, an issue and its lock."""
    maker = home(tmp_path)
    written(maker.studio / "house.toml", 'based_on = "base"\ntitle = "House"\n')
    written(maker.studio / "base.toml", house("Base"))
    written(maker.studio / "layouts" / "ours.toml", PAIR.format(tiers="1, 1"))
    maker.write("desk/cards.toml", ISSUE)
    assert maker.run("lock", "cards.toml").code == 0
    return maker


def canvases(maker: Home) -> dict[str, str]:
    """The files that a maker's build of the issue writes, without guidekit's own record."""
    run = maker.run("build", "cards.toml", "--format", FORMATS, "--out", "out", "-q")
    assert run.code == 0, run
    return {n: x for n, x in contents(maker.desk / "out").items() if not n.startswith(".")}


def colleague(maker: Home, name: str) -> Home:
    """Another maker without any studio, who has the issue and its lock."""
    other = Home(maker.folder.parent / name, maker.folder.parent / f"studio of {name}")
    other.studio.mkdir()
    other.desk.mkdir(parents=True)
    for file in ("cards.toml", "cards.lock.json"):
        shutil.copy(maker.desk / file, other.desk / file)
    return other


def test_three_machines(maker: Home) -> None:
    """With the lock the bytes are the same beside a studio that has moved on, and without any."""
    first = canvases(maker)
    assert len(first) == 9
    second, third = colleague(maker, "inker"), colleague(maker, "letterer")
    written(second.studio / "house.toml", house("Newer", "30 px"))
    written(second.studio / "layouts" / "ours.toml", PAIR.format(tiers="2, 2"))
    assert canvases(second) == first
    assert canvases(third) == first
    (second.desk / "cards.lock.json").unlink()
    shutil.rmtree(second.desk / "out")
    other = canvases(second)
    assert {*other} == {*first}
    assert not {*other.values()} & {*first.values()}


def test_what_has_moved_on(maker: Home) -> None:
    """A build says what differs, how many pages that would change, and how to move on."""
    base = maker.studio / "base.toml"
    base.write_text(house("Base", "9 px").replace('"2 px"', '"0.5 mm"'), "utf-8")
    written(maker.studio / "layouts" / "ours.toml", PAIR.format(tiers="1, 1, 1"))
    run = maker.run("check", "cards.toml")
    assert run.code == 0
    assert run.err.splitlines() == [
        'Warning: The preset "house" has moved on: gutter across 8 px → 9 px; '
        "gutter down 8 px → 9 px; border 2 px → 0.5 mm. The locked one is used.",
        'Warning: The layout "pair" has moved on: tiers [1, 1] → [1, 1, 1]. '
        "The locked one is used.",
        "Warning: 1 of 3 pages would change with it; to move on: guidekit lock cards.toml --update",
    ]
    elsewhere = Path("..", maker.desk.name, "cards.toml")
    assert f"to move on: guidekit lock {elsewhere} --update" in maker.run("check", elsewhere).err
    before = canvases(maker)
    assert maker.run("lock", "cards.toml", "--update").code == 0
    assert maker.run("check", "cards.toml").err == ""
    assert canvases(maker) != before


def test_other_words_are_no_change(maker: Home) -> None:
    """A comment, an equal length in another unit and an own base are nothing to speak of."""
    text = house("House").replace('"8 px"', '"8 px" # ours').replace('"20 px"', '"20.0 px"')
    written(maker.studio / "house.toml", text)
    assert maker.run("check", "cards.toml").err == ""


def test_what_is_new_is_not_locked(maker: Home) -> None:
    """What an issue names since is used and told; to lock again adds it and moves nothing else."""
    issue = maker.desk / "cards.toml"
    issue.write_text(ISSUE.replace("tiers = [1]", 'panels = "splash"'), "utf-8")
    (maker.studio / "base.toml").write_text(house("Base", "9 px"), "utf-8")
    assert 'Not locked: layout "splash". To lock' in maker.run("check", "cards.toml").err
    before = json.loads((maker.desk / "cards.lock.json").read_text("utf-8"))
    assert maker.run("lock", "cards.toml").out == "cards.lock.json: 1 preset, 2 layouts.\n"
    after = json.loads((maker.desk / "cards.lock.json").read_text("utf-8"))
    assert after["presets"] == before["presets"]
    assert {*after["layouts"]} == {"pair", "splash"}
    assert "Not locked" not in maker.run("check", "cards.toml").err


def _edited(lock: dict[str, Any]) -> None:
    lock["presets"]["house"]["values"]["dpi"] = 101


def _edited_with_its_digest(lock: dict[str, Any]) -> None:
    lock["presets"]["house"]["sha256"] = "0" * 64


def _halved(lock: dict[str, Any]) -> None:
    del lock["presets"]["house"]["values"]


def _newer(lock: dict[str, Any]) -> None:
    lock["version"] = 2


def _of_another(lock: dict[str, Any]) -> None:
    lock["issue"] = "other.toml"


def _huge_number(lock: dict[str, Any]) -> None:
    lock["presets"]["house"]["values"]["dpi"] = 10**400


def _half_a_letter(lock: dict[str, Any]) -> None:
    lock["presets"]["\ud800"] = lock["presets"].pop("house")


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (_half_a_letter, "this is no lock, or a part of one. Write it anew"),
        (_edited, "was changed by hand"),
        (_edited_with_its_digest, "was changed by hand"),
        (_halved, "is not whole: presets.house.values: this key is missing. Write it anew"),
        (_newer, "is of version 2, and this guidekit reads 1. Install a newer guidekit"),
        (_of_another, "was changed by hand"),
        (_huge_number, "was changed by hand"),
    ],
)
def test_a_wrong_lock(maker: Home, change: Callable[[dict[str, Any]], None], said: str) -> None:
    """A lock that was tampered with is refused with its path, and nothing is written."""
    path = maker.desk / "cards.lock.json"
    lock = json.loads(path.read_text("utf-8"))
    change(lock)
    path.write_text(json.dumps(lock), "utf-8")
    run = maker.run("build", "cards.toml", "--out", "out")
    assert (run.code, run.out) == (2, "")
    assert run.err.startswith(f"guidekit: {path.name}: ")
    assert said in run.err
    assert not (maker.desk / "out").exists()


@pytest.mark.parametrize("size", [0, 1, 100, 600])
def test_half_a_lock(maker: Home, size: int) -> None:
    """A lock of which only the beginning is there is refused, and can be written anew."""
    path = maker.desk / "cards.lock.json"
    path.write_bytes(path.read_bytes()[:size])
    run = maker.run("check", "cards.toml")
    assert (run.code, run.out) == (2, "")
    assert "Write it anew: guidekit lock cards.toml --update" in run.err
    assert maker.run("lock", "cards.toml", "--update").code == 0
    assert maker.run("check", "cards.toml").code == 0


def test_a_lock_that_leads_nowhere(maker: Home) -> None:
    """A lock that is a link to nothing is refused, and not passed over as if there were none."""
    path = maker.desk / "cards.lock.json"
    path.unlink()
    path.symlink_to("nowhere.json")
    run = maker.run("build", "cards.toml", "--out", "out")
    assert (run.code, run.out) == (2, "")
    assert run.err.startswith("guidekit: cards.lock.json: this is no lock")
    assert not (maker.desk / "out").exists()


def test_the_lock_of_another_issue(maker: Home) -> None:
    """A lock that was copied to another issue is refused."""
    maker.write("desk/other.toml", ISSUE)
    shutil.copy(maker.desk / "cards.lock.json", maker.desk / "other.lock.json")
    run = maker.run("check", "other.toml")
    assert (run.code, run.out) == (2, "")
    assert 'this lock is of another issue, "cards.toml"' in run.err


GUEST = """
from guidekit.plugins.contract import Box, Guide, Rule
guest = Guide(145, "guest", "Guest", "off", (1, 2, 3), 100, lambda seen: [Rule(Box(9, 9, 20, 20))])
"""


def test_the_version_of_a_plugin(maker: Home) -> None:
    """The lock names plug-ins: another version is told, and a missing one by what it is for."""
    site = maker.folder / "site"
    installed_plugin(site, "guests", GUEST, guides="guest = guests:guest")
    shown = '[guides]\nguest = "shown"\n[[pages]]'
    maker.write("desk/cards.toml", ISSUE.replace("[[pages]]", shown, 1))
    seen = {"PYTHONPATH": path_with(site)}
    assert "1 layout, 1 guide." in maker.run("lock", "cards.toml", **seen).out
    assert json.loads((maker.desk / "cards.lock.json").read_text("utf-8"))["guides"] == {
        "guest": {"plugin": "guests", "version": "1.0"}
    }
    assert maker.run("check", "cards.toml", **seen).err == ""
    missing = maker.run("check", "cards.toml")
    assert missing.code == 2
    said = 'line 4, guides.guest: the guide "guest" is not here. Install the plug-in guests 1.0'
    assert said in missing.err
    (points,) = site.glob("*/entry_points.txt")
    told_by(site, "guests", "1.1", points.read_text("utf-8"))
    shutil.rmtree(points.parent)
    other = maker.run("check", "cards.toml", **seen)
    assert other.code == 0
    assert "The plug-in guests is 1.1 here and 1.0 in the lock" in other.err


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


def test_what_came_later_and_is_wrong(maker: Home) -> None:
    """A preset or layout that has become wrong since is no hindrance to an issue with its lock."""
    first = canvases(maker)
    for wrong in ("dpi = 2020-01-01", "dpi = [[", "drawing = nan"):
        written(maker.studio / "house.toml", wrong)
        written(maker.studio / "layouts" / "ours.toml", f"[pair]\ntiers = [1, 2]\n{wrong}\n")
        assert canvases(maker) == first
        assert "Traceback" not in maker.run("check", "cards.toml").err
