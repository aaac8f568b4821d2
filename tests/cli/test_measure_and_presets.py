"""``guidekit measure`` and ``guidekit presets``: numbers for people and for programs."""

import json
from pathlib import Path

import pytest
from support.catalogue import PRESETS
from support.samples import REPOSITORY, SPLASH, boxes_of, contents, issue_file, run_here

TIERS = 'title = "The Salt Road"\nnumber = 2\npreset = "us-comic"\n' + SPLASH * 3
TIERS += "[[pages]]\ntiers = [2, 3, 1]\n"
PAGE_4 = {
    "pages": [4],
    "side": "left",
    "file_name": "salt-road-02-p004",
    "dpi": 600,
    "canvas": [4125, 6300],
    "bleed": [0, 0, 4125, 6300],
    "trim": [75, 75, 4050, 6225],
    "safe_area": [225, 225, 3900, 6075],
    "gutter": {"across": 113, "down": 113},
}
PAGE_4_AS_TEXT = """\
salt-road-02-p004  left
  canvas    4125 × 6300 px at 600 dpi
  bleed          0      0   4125   6300   4125 × 6300 px
  trim          75     75   4050   6225   3975 × 6150 px
  safe area    225    225   3900   6075   3675 × 5850 px
  gutters   113 px across, 113 px down; border 15 px
  panel 1      225    225   2006   2100   1781 × 1875 px
"""


def test_measure_as_json(tmp_path: Path) -> None:
    """All boxes come as JSON with the numbers of the design, and nothing is written."""
    run = run_here("measure", issue_file(tmp_path, TIERS), "--json")
    assert (run.code, run.err) == (0, "")
    pages = boxes_of(run)
    assert [page["pages"] for page in pages] == [[1], [2], [3], [4]]
    assert {key: pages[3][key] for key in PAGE_4} == PAGE_4
    assert pages[3]["panels"][0] == {"number": 1, "box": [225, 225, 2006, 2100]}
    assert [panel["number"] for panel in pages[3]["panels"]] == [1, 2, 3, 4, 5, 6]
    assert set(contents(tmp_path)) == {"issue.toml"}


def test_measure_as_text(tmp_path: Path) -> None:
    """The same numbers come as text, each box with its size; only the pages asked for."""
    run = run_here("measure", issue_file(tmp_path, TIERS), "--pages", "4")
    assert (run.code, run.err) == (0, "")
    assert run.out.startswith(PAGE_4_AS_TEXT)
    assert run.out.count("\n") == PAGE_4_AS_TEXT.count("\n") + 5
    assert set(contents(tmp_path)) == {"issue.toml"}


SCROLL = """\
title = "Tide Line"
preset = "vertical-scroll"
[[pages]]
scroll = [{ height = "900 px" }]
[[pages]]
scroll = [{ height = "20000 px" }, { height = "20000 px" }, { height = "900 px" }]
[[pages]]
tiers = [2]
"""


def test_parts_of_a_scroll(tmp_path: Path) -> None:
    """A page number takes all canvases of a scroll, each told with its part of the page."""
    issue = issue_file(tmp_path, SCROLL)
    everything = boxes_of(run_here("measure", issue, "--json"))
    assert [(page["pages"], page.get("part"), page["file_name"]) for page in everything] == [
        ([1], None, "tide-line-p001"),
        ([2], 1, "tide-line-p002-1"),
        ([2], 2, "tide-line-p002-2"),
        ([3], None, "tide-line-p003"),
    ]
    chosen = boxes_of(run_here("measure", issue, "--pages", 2, "--json"))
    assert chosen == everything[1:3]
    out = tmp_path / "out"
    assert run_here("build", issue, "--pages", 2, "--out", out, "--format", "svg").code == 0
    assert sorted(name for name in contents(out) if name.endswith(".svg")) == [
        "tide-line-p002-1.svg",
        "tide-line-p002-2.svg",
    ]
    assert "not in the issue" in run_here("measure", issue, "--pages", 4).err


def test_measure_tells_what_runs_to_the_bleed(tmp_path: Path) -> None:
    """A panel that runs to the bleed is told with its sides, in both ways."""
    issue = issue_file(tmp_path, TIERS.replace("[2, 3, 1]", '[2, 3, 1]\npanel.1.bleed = ["top"]'))
    assert "2100   1781 × 2100 px; bleeds top\n" in run_here("measure", issue, "--pages", 4).out
    page = boxes_of(run_here("measure", issue, "--pages", 4, "--json"))[0]
    assert page["panels"][0] == {"number": 1, "box": [225, 0, 2006, 2100], "bleed": ["top"]}


def test_presets_list() -> None:
    """Every shipped preset is listed, in text one a line, in JSON one table a preset."""
    names = [*PRESETS]
    text, data = run_here("presets", "list"), run_here("presets", "list", "--json")
    assert (text.code, data.code, text.err, data.err) == (0, 0, "", "")
    assert [line.split()[0] for line in text.out.splitlines()] == names
    rows = json.loads(data.out)["presets"]
    assert [row["name"] for row in rows] == names
    for row, line in zip(rows, text.out.splitlines(), strict=True):
        assert all(str(row[key]) in line for key in ("title", "size", "dpi"))


@pytest.mark.parametrize("name", PRESETS)
def test_presets_show(name: str) -> None:
    """Every value of a preset is shown with its origin, in text as in JSON."""
    text, data = run_here("presets", "show", name), run_here("presets", "show", name, "--json")
    assert (text.code, data.code, text.err, data.err) == (0, 0, "", "")
    shown = json.loads(data.out)
    assert shown["name"] == name
    lines = text.out.splitlines()
    assert lines[0].startswith(f"{name}: ")
    for row in shown["values"]:
        (line,) = [line for line in lines if line.split()[:1] == [row["key"]]]
        assert line.endswith(row["from"])
        assert row["value"] in line


def test_presets_check(tmp_path: Path) -> None:
    """A good preset is said to be fit, of a wrong one all is told, unknown layouts too."""
    good = REPOSITORY / "presets" / "us-comic.toml"
    run = run_here("presets", "check", good)
    assert run == (0, f"{good}: US comic book, fit to use.\n", "")
    wrong = tmp_path / "wrong.toml"
    wrong.write_text('based_on = "us-comic"\ndpi = 0\nborder = 3\n', "utf-8")
    assert run_here("presets", "check", wrong) == (
        2,
        "",
        "guidekit: wrong.toml, line 2, dpi: 0 is too small. Write 1 or more.\n"
        'wrong.toml, line 3, border: 3 has no unit. Write "3 mm", or another unit: cm, in, pt or '
        "px.\n",
    )
    wrong.write_text('based_on = "us-comic"\n[start]\nfirst = "splahs"\n', "utf-8")
    told = 'wrong.toml, line 3, start.first: there is no layout "splahs". Did you mean "splash"?\n'
    assert run_here("presets", "check", wrong) == (2, "", f"guidekit: {told}")
