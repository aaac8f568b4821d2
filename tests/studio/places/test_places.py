"""Where presets and layouts come from: the order of places, and what is shown of it."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

from support.homes import CARDS, TWO, Home, home, house, written
from support.samples import boxes_of, environment


def measured(maker: Home, issue: Path) -> dict[str, Any]:
    """The first page of an issue as `measure` tells it."""
    run = maker.run("measure", issue, "--json")
    assert (run.code, run.err) == (0, ""), run
    return boxes_of(run)[0]


def test_the_nearest_counts(tmp_path: Path) -> None:
    """Beside the issue, the maker's folder, the studio's, what is shipped: the first counts."""
    maker = home(tmp_path)
    issue = maker.write("desk/cards.toml", CARDS.replace('"two"', '"splash"'))
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
    issue = maker.write("desk/cards.toml", CARDS)
    written(maker.desk / "house.toml", house())
    maker.write("desk/more-cards.toml", CARDS)
    listed = json.loads(maker.run("presets", "list", "--issue", issue, "--json").out)["presets"]
    assert [row["name"] for row in listed if row["from"] == "beside the issue"] == ["house"]
    assert maker.run("presets", "list", "--issue", maker.desk / "none.toml").code == 2


def test_layouts_as_well(tmp_path: Path) -> None:
    """Layouts of a studio are found, listed with their origin, and hidden by nearer ones."""
    maker = home(tmp_path)
    issue = maker.write("desk/cards.toml", CARDS)
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
    maker.write("desk/cards.toml", CARDS.replace('"two"', '"splash"'))
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
