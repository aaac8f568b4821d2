"""Where presets and layouts come from: the order of places, what is shown of it, what is wrong."""

import json
import os
import subprocess
import sys
from pathlib import Path
from threading import Event
from typing import Any

import pytest
from support.homes import Home, home, house, written
from support.samples import REPOSITORY, boxes_of, environment

from guidekit.studio import places
from guidekit.studio.places import place
from guidekit.studio.rows import glance

ISSUE = 'title = "Cards"\npreset = "house"\n[[pages]]\npanels = "two"\n'
TWO = '[two]\nabout = "{about}"\ntiers = [{tiers}]\n'


def measured(maker: Home, issue: Path) -> dict[str, Any]:
    """The first page of an issue as `measure` tells it."""
    run = maker.run("measure", issue, "--json")
    assert (run.code, run.err) == (0, ""), run
    return boxes_of(run)[0]


def test_the_nearest_counts(tmp_path: Path) -> None:
    """Beside the issue, the maker's folder, the studio's, what is shipped: the first counts."""
    maker = home(tmp_path)
    issue = maker.write("desk/cards.toml", ISSUE.replace('"two"', '"splash"'))
    gutters = {}
    for gutter, file in (
        ("11 px", maker.studio / "house.toml"),
        ("12 px", maker.own / "house.toml"),
        ("13 px", maker.desk / "house.toml"),
    ):
        written(file, house(gutter=gutter))
        gutters[gutter] = measured(maker, issue)["gutter"]["across"]
    assert gutters == {"11 px": 11, "12 px": 12, "13 px": 13}
    (row,) = [
        row
        for row in json.loads(maker.run("presets", "list", "--issue", issue, "--json").out)[
            "presets"
        ]
        if row["name"] == "house"
    ]
    assert row["from"] == "beside the issue"
    assert row["shadows"] == ["your folder", f"studio {maker.studio}"]
    assert (row["title"], row["size"], row["dpi"]) == ("House", "300 × 400 px", 100)


def test_issues_are_no_presets(tmp_path: Path) -> None:
    """Another issue beside the one from which a list is seen is none of its presets."""
    maker = home(tmp_path)
    issue = maker.write("desk/cards.toml", ISSUE)
    written(maker.desk / "house.toml", house())
    maker.write("desk/more-cards.toml", ISSUE)
    listed = json.loads(maker.run("presets", "list", "--issue", issue, "--json").out)["presets"]
    assert [row["name"] for row in listed if row["from"] == "beside the issue"] == ["house"]
    assert maker.run("presets", "list", "--issue", maker.desk / "none.toml").code == 2


def test_layouts_as_well(tmp_path: Path) -> None:
    """Layouts of a studio are found, listed with their origin, and hidden by nearer ones."""
    maker = home(tmp_path)
    issue = maker.write("desk/cards.toml", ISSUE)
    written(maker.studio / "house.toml", house())
    written(maker.studio / "layouts" / "ours.toml", TWO.format(about="Studio.", tiers="1, 1"))
    assert len(measured(maker, issue)["panels"]) == 2
    written(maker.own / "layouts" / "mine.toml", TWO.format(about="Mine.", tiers="1, 1, 1"))
    assert len(measured(maker, issue)["panels"]) == 3
    told = maker.run("layouts", "list", "--panels", "3").out
    assert f"Mine.  (your folder, mine.toml, in place of that from studio {maker.studio}" in told


def test_the_chain(tmp_path: Path) -> None:
    """`presets show` tells all that a preset is based on, and where each value is from."""
    maker = home(tmp_path)
    written(maker.studio / "us-comic.toml", 'based_on = "us-comic"\ngutter = "4 mm" # the inker\n')
    maker.write("data/guidekit/mine.toml", 'based_on = "us-comic"\ndpi = 1200\n')
    run = maker.run("presets", "show", "mine", "--json")
    shown = json.loads(run.out)
    assert [(link["name"], link["from"]) for link in shown["chain"]] == [
        ("mine", "your folder"),
        ("us-comic", f"studio {maker.studio}"),
        ("us-comic", "guidekit"),
    ]
    origin = {row["key"]: row["from"] for row in shown["values"]}
    assert origin["dpi"] == "mine.toml"
    assert origin["gutter.across"] == f"us-comic.toml (studio {maker.studio}): the inker"
    assert origin["border"].startswith("us-comic.toml (guidekit): ")
    assert "mine (your folder) ← us-comic (studio" in maker.run("presets", "show", "mine").out


def test_an_issue_is_no_preset(tmp_path: Path) -> None:
    """An issue, or another beside it, called like a preset does not hide that preset."""
    maker = home(tmp_path)
    text = 'title = "Cards"\npreset = "square"\n[[pages]]\npanels = "splash"\n'
    issue = maker.write("desk/square.toml", text)
    maker.write("desk/us-comic.toml", text)
    width, height = measured(maker, issue)["canvas"]
    assert width == height
    other = maker.write("desk/other.toml", text.replace('"square"', '"us-comic"'))
    assert measured(maker, other)["canvas"] == [4125, 6300]


def test_doubles(tmp_path: Path) -> None:
    """Two presets of one name in one folder are refused by both names, and only if wanted."""
    maker = home(tmp_path)
    for name in ("House", "house"):
        written(maker.studio / f"{name}.toml", house())
    written(maker.studio / "other.toml", house("Other"))
    run = maker.run("presets", "show", "house")
    assert (run.code, run.out) == (2, "")
    assert f'"House" and "house", both from studio {maker.studio}' in run.err
    listed = maker.run("presets", "list")
    assert "there are two presets of one name" in listed.out
    assert maker.run("presets", "show", "other").code == 0


def test_a_folder_that_does_not_answer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder on a drive that is gone is left out with a warning, however long it would take."""
    monkeypatch.setattr(places, "PATIENCE", 0.05)
    told: list[str] = []

    def dead(folder: Path) -> list[str]:
        Event().wait()
        return []

    found = place("studio", tmp_path, told.append, read=dead)
    assert found.presets == ()
    assert told == [f"{tmp_path} is left out: no answer within 0.05 seconds."]


def test_a_drive_that_dies(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A drive that dies after its folder was listed is told by file, and asked only once."""
    maker = home(tmp_path)
    for name in ("house", "other", "third"):
        written(maker.studio / f"{name}.toml", house())
    written(maker.studio / "layouts" / "ours.toml", TWO.format(about="", tiers="1, 1"))
    issue = maker.write("desk/cards.toml", ISSUE)
    locked = maker.write("desk/locked.toml", ISSUE)
    assert maker.run("lock", locked).code == 0
    assert maker.run("check", locked).code == 0  # what is loaded later keeps the dead reader
    monkeypatch.setattr(places, "PATIENCE", 0.05)
    asked: list[object] = []

    def dead(*what: object) -> None:
        asked.append(what)
        Event().wait()

    monkeypatch.setattr(places, "_texts", dead)
    monkeypatch.setattr("guidekit.toml.read_toml", dead)
    run = maker.run("presets", "list")
    assert (run.code, run.err, len(asked)) == (0, "", 1)
    assert run.out.count("no answer ") == 3
    run = maker.run("layouts", "list")
    assert run.code == 0
    assert run.err.startswith(f"Warning: reading {maker.studio / 'layouts' / 'ours.toml'}: no answ")
    run = maker.run("check", issue)
    assert (run.code, run.out) == (1, "")
    assert f"guidekit: reading {maker.studio / 'house.toml'}: no answer within 0.05" in run.err
    run = maker.run("check", locked)
    assert run.code == 0
    assert "The layouts in it are left out" in run.err


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    """A studio folder that is not there is a warning, and a broken file of layouts is one too."""
    maker = home(tmp_path)
    written(maker.studio / "house.toml", house())
    written(maker.studio / "layouts" / "broken.toml", "[two\n")
    issue = maker.write("desk/cards.toml", ISSUE.replace('"two"', '"splash"'))
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


def test_settings(tmp_path: Path) -> None:
    """Folders of the settings count after those of the variable, relative ones from their file."""
    maker = home(tmp_path)
    maker.write("config/guidekit/config.toml", 'studio_folders = ["formats"]\n')
    maker.write("config/guidekit/formats/near.toml", house("Near"))
    maker.write("config/guidekit/formats/house.toml", house("Far"))
    written(maker.studio / "house.toml", house("First"))
    rows = json.loads(maker.run("presets", "list", "--json").out)["presets"]
    assert {row["name"]: row["title"] for row in rows}["house"] == "First"
    assert {row["name"]: row["title"] for row in rows}["near"] == "Near"


OPENED = """
import os, sys
seen = set()
sys.addaudithook(lambda name, args: name == "open" and seen.add(str(args[0])))
from guidekit.cli import main
sys.argv = ["guidekit", "build", "cards.toml", "--format", "svg", "--out", "out"]
try:
    main()
except SystemExit as end:
    assert not end.code
folder = os.environ["GUIDEKIT_STUDIO"] + os.sep
print(*sorted(path for path in seen if path.startswith(folder)), sep="\\n")
"""


def test_a_build_opens_what_it_needs(tmp_path: Path) -> None:
    """Of all the presets in a studio's folder, a build opens the one of the issue and its base."""
    maker = home(tmp_path)
    for number in range(200):
        written(maker.studio / f"format-{number:03}.toml", house())
    written(maker.studio / "house.toml", 'based_on = "format-007"\n')
    maker.write("desk/cards.toml", ISSUE.replace('"two"', '"splash"'))
    done = subprocess.run(
        [sys.executable, "-c", OPENED],
        cwd=maker.desk,
        env=environment(GUIDEKIT_STUDIO=str(maker.studio)),
        capture_output=True,
        text=True,
        check=True,
    )
    opened = [Path(line).name for line in done.stdout.splitlines() if line.endswith(".toml")]
    assert opened == ["format-007.toml", "house.toml"]


@pytest.mark.parametrize(
    "text",
    [
        'title = "A"\ntrim = { width = "1 mm", height = "2 mm" }\n[guides]\ntrim = "off"\n',
        'based_on = "x"\ndrawing = [\n"title = 3",\n]\ntitle = "B"\n',
        'title = """A\ndpi = 3\n"""\ndpi = 300\n',
        'title = "A"\n[trim]\nwidth = "1 mm"\nheight = "2 mm"\n',
        'title = "A"\ntrim.width = "1 mm"\ntrim.height = "2 mm"\n[[x]]\ntitle = "C"\n',
        'about = "x"\n',
        'trim = { width = "1 mm", # wide\nheight = "2 mm" }\n',
    ],
)
def test_a_glance(text: str) -> None:
    """What is seen of a file at a glance is what is in it, of the keys that lists show."""
    import tomllib

    keys = ("title", "dpi", "trim", "scroll", "based_on")
    try:
        whole = tomllib.loads(text)
    except ValueError:
        with pytest.raises(ValueError, match="line"):
            glance(text.encode())
        return
    seen = glance(text.encode())
    assert {key: seen[key] for key in keys if key in seen} == {
        key: whole[key] for key in keys if key in whole
    }


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


def test_shipped_presets_at_a_glance() -> None:
    """Each shipped preset shows at a glance what is in it."""
    for path in (REPOSITORY / "presets").glob("*.toml"):
        test_a_glance(path.read_text("utf-8"))
