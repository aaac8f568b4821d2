"""Places that do not answer or are not there, and what is wrong in them."""

import json
import os
from pathlib import Path
from threading import Event

import pytest
from support.homes import CARDS, TWO, home, house, written

from guidekit.studio.places.place import place


def test_a_folder_that_does_not_answer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder on a drive that is gone is left out with a warning, however long it would take."""
    monkeypatch.setattr("guidekit.studio.places.folder.PATIENCE", 0.05)
    told: list[str] = []
    tested = Event()

    def dead(folder: Path) -> list[str]:
        tested.wait()  # then its thread ends; until then Python 3.11 hangs where calls are traced
        return []

    found = place("studio", tmp_path, told.append, read=dead)
    tested.set()
    assert found.presets == ()
    assert told == [f"{tmp_path} is left out: no answer within 0.05 seconds."]


def test_a_drive_that_dies(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A drive that dies after its folder was listed is told by file, and asked only once."""
    maker = home(tmp_path)
    for name in ("house", "other", "third"):
        written(maker.studio / f"{name}.toml", house())
    written(maker.studio / "layouts" / "ours.toml", TWO.format(about="", tiers="1, 1"))
    issue = maker.write("desk/cards.toml", CARDS)
    locked = maker.write("desk/locked.toml", CARDS)
    assert maker.run("lock", locked).code == 0
    assert maker.run("check", locked).code == 0  # what is loaded later keeps the dead reader
    asked: list[object] = []

    def dead(*what: object) -> None:
        asked.append(what)
        raise TimeoutError("no answer within 2 seconds")  # as when it has been waited for

    monkeypatch.setattr("guidekit.studio.places.folder._texts", dead)
    monkeypatch.setattr("guidekit.toml.read_toml", dead)
    run = maker.run("presets", "list")
    assert (run.code, run.err, len(asked)) == (0, "", 1)
    assert run.out.count("no answer ") == 3
    run = maker.run("layouts", "list")
    assert run.code == 0
    assert run.err.startswith(f"Warning: reading {maker.studio / 'layouts' / 'ours.toml'}: no answ")
    run = maker.run("check", issue)
    assert (run.code, run.out) == (1, "")
    assert f"guidekit: reading {maker.studio / 'house.toml'}: no answer within 2 s" in run.err
    run = maker.run("check", locked)
    assert run.code == 0
    assert "The layouts in it are left out" in run.err


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    """A studio folder that is not there is a warning, and a broken file of layouts is one too."""
    maker = home(tmp_path)
    written(maker.studio / "house.toml", house())
    written(maker.studio / "layouts" / "broken.toml", "[two\n")
    issue = maker.write("desk/cards.toml", CARDS.replace('"two"', '"splash"'))
    both = f"/no/such/folder:{maker.studio}"
    run = maker.run("check", issue, GUIDEKIT_STUDIO=both)
    assert run.code == 0
    first, second = run.err.splitlines()
    assert first == "Warning: /no/such/folder is left out: No such file or directory."
    assert second.startswith("Warning: broken.toml, line 1: ")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ('studio_folders = "x"', "config.toml, line 1, studio_folders: "),
        ("folders = []", "config.toml, line 1, folders: there is no such key"),
        ("\nplugins = [3]", "config.toml, line 2, plugins[1]: 3 is not text in quotes"),
        ("plugins = [", "config.toml, line 1: "),
    ],
)
def test_wrong_settings(tmp_path: Path, text: str, said: str) -> None:
    """A mistake in the settings is told with its line, and nothing is done."""
    maker = home(tmp_path)
    maker.write("config/guidekit/config.toml", text)
    run = maker.run("presets", "list")
    assert (run.code, run.out) == (2, "")
    assert said in run.err


def test_a_home_that_nobody_has(tmp_path: Path) -> None:
    """A folder in the home of a user who is not there is left out with a warning, and no more."""
    maker = home(tmp_path)
    maker.write("config/guidekit/config.toml", 'studio_folders = ["~nosuchuser/formats"]')
    run = maker.run("presets", "list", GUIDEKIT_STUDIO="~nosuchuser/more")
    assert run.code == 0
    told = run.err.splitlines()
    assert [line.partition(": ")[2].partition(" is left out")[0] for line in told] == [
        "~nosuchuser/more",
        str(maker.folder / "config" / "guidekit" / "~nosuchuser" / "formats"),
    ]


HOSTILE = {
    "a list": ('title = "A"\ndpi = [1]\n', "dpi: [1] is not a whole number."),
    "a date": ('title = "A"\ndpi = 2020-01-01\n', "dpi: 2020-01-01 is not a whole number."),
    "another kind": ('title = 3\nbased_on = "us-comic"\n', "title: 3 is not text in quotes."),
    "brackets": (f"title = {'[' * 20_000}\n", "nested too deeply"),
    "dots": (f"title = 1\ndpi{'.a' * 20_000} = 1\n", "nested too deeply"),
    "no TOML": ('title = "A\n', "wrong.toml, line 1: "),
}


@pytest.mark.parametrize(("text", "said"), HOSTILE.values(), ids=HOSTILE)
def test_wrong_presets_in_lists(tmp_path: Path, text: str, said: str) -> None:
    """Whatever a file holds, lists tell what is wrong with it and show all others, as JSON too."""
    maker = home(tmp_path)
    written(maker.own / "wrong.toml", text)
    written(maker.own / "house.toml", f"\ufeff{house()}")
    run = maker.run("presets", "list")
    assert (run.code, run.err) == (0, "")
    (wrong,) = [line for line in run.out.splitlines() if line.startswith("wrong ")]
    assert said in wrong
    rows = json.loads(maker.run("presets", "list", "--json").out)["presets"]
    found = {row["name"]: row for row in rows}
    assert said in found["wrong"]["problem"]
    assert (found["house"]["title"], found["house"]["dpi"]) == ("House", 100)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="this system has no pipes in folders")
def test_a_pipe_is_no_preset(tmp_path: Path) -> None:
    """A pipe in a folder of presets is told, and nobody waits for its other end."""
    maker = home(tmp_path)
    maker.own.mkdir(parents=True)
    os.mkfifo(maker.own / "pipe.toml")
    run = maker.run("presets", "list")
    assert run.code == 0
    assert "this is a device or a pipe" in run.out
