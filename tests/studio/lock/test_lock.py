"""Holding still: what an issue uses is locked, whatever becomes of the studio's format."""

import json
import shutil
from pathlib import Path

from support.homes import Home, house, written
from support.locked_issue import ISSUE, PAIR, canvases, colleague
from support.plugin_files import installed_plugin, path_with, told_by


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


def test_what_came_later_and_is_wrong(maker: Home) -> None:
    """A preset or layout that has become wrong since is no hindrance to an issue with its lock."""
    first = canvases(maker)
    for wrong in ("dpi = 2020-01-01", "dpi = [[", "drawing = nan"):
        written(maker.studio / "house.toml", wrong)
        written(maker.studio / "layouts" / "ours.toml", f"[pair]\ntiers = [1, 2]\n{wrong}\n")
        assert canvases(maker) == first
        assert "Traceback" not in maker.run("check", "cards.toml").err
