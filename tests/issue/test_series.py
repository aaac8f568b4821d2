"""Series: what issues share in one file, what an issue changes, and what is wrong in either."""

from pathlib import Path

import pytest
from support.fonts import font_file
from support.silent_drive import silent

from guidekit import InputError, MachineError, load_issue
from guidekit.geometry.plan import plan_issue

SERIES = """\
title = "The Salt Road"
preset = "formats/house.toml"
binding = { kind = "saddle-stitch", caliper = "0.1 mm" }
[folios]
[format]
dpi = 200
border = "2 mm"
[guides]
thirds = "shown"
bleed = "off"
[layouts.wide]
tiers = [1, 1]
"""
HOUSE = """\
title = "House"
dpi = 100
trim = { width = "6 in", height = "8 in" }
gutter = "0.1 in"
border = "1 mm"
drawing = ["Inks"]
"""
ISSUE = """\
series = "../series.toml"
number = 3
[format]
border = "3 mm"
[guides]
bleed = "hidden"
[[pages]]
panels = "wide"
count = 4
"""


def issue(folder: Path, text: str = ISSUE, series: str = SERIES) -> Path:
    """An issue in a folder of its own, its series and the series' preset beside that."""
    for path, content in (
        (folder / "series.toml", series),
        (folder / "formats" / "house.toml", HOUSE),
        (folder / "three" / "three.toml", text),
    ):
        path.parent.mkdir(exist_ok=True)
        path.write_text(content, "utf-8")
    return folder / "three" / "three.toml"


def test_an_issue_takes_over_what_it_does_not_say(tmp_path: Path) -> None:
    """Title, preset, binding, guides and layouts of the series; its own number and values first."""
    file = load_issue(issue(tmp_path))
    assert (file.issue.title, file.issue.number, file.file_name) == (
        "The Salt Road", 3, "salt-road-03",
    )  # fmt: skip
    assert file.preset.title == "House"
    assert (file.preset.dpi, str(file.preset.border)) == (200, "3 mm")
    assert file.issue.guides == {"thirds": "shown", "bleed": "hidden"}
    assert file.issue.binding
    first = plan_issue(file)[0]
    assert len(first.panels) == 2
    assert [folio.words for folio in first.folios] == ["1"]


def test_the_same_as_written_out(tmp_path: Path) -> None:
    """Pages are those of an issue that says all of it itself."""
    plans = plan_issue(load_issue(issue(tmp_path)))
    whole = SERIES.replace('"formats', '"../formats').replace('border = "2 mm"', 'border = "3 mm"')
    whole = whole.replace('bleed = "off"', 'bleed = "hidden"')
    alone = f'number = 3\n{whole}[[pages]]\npanels = "wide"\ncount = 4\n'
    path = tmp_path / "three" / "alone.toml"
    path.write_text(alone, "utf-8")
    for one, other in zip(plans, plan_issue(load_issue(path)), strict=True):
        assert (one.boxes, one.panels, one.folios) == (other.boxes, other.panels, other.folios)
        assert dict(one.guides) == dict(other.guides)


@pytest.mark.parametrize(
    ("series", "text", "said"),
    [
        (SERIES.replace("200", '"x"'), ISSUE, "series.toml, line 6, format.dpi"),
        (SERIES.replace('"shown"', '"maybe"'), ISSUE, "series.toml, line 9, guides.thirds"),
        (SERIES.replace("kind =", "kin ="), ISSUE, "series.toml, line 3, binding"),
        ("number = 2\n" + SERIES, ISSUE, "series.toml, line 1, number"),
        ("pages = []\n" + SERIES, ISSUE, "line 1, pages: this key does not belong here"),
        (SERIES, ISSUE.replace("../series", "series"), "line 1, series: there is no file"),
        (SERIES, ISSUE.replace("../series", "é" * 200), "line 1, series: there is no file"),
        (SERIES, ISSUE.replace('"../series.toml"', "7"), "line 1, series: 7 is not text"),
        (SERIES.replace("house", "mouse"), ISSUE, "series.toml, line 2, preset: there is no "),
        (SERIES.replace('"formats/house.toml"', '"hous"'), ISSUE, "series.toml, line 2, preset: "),
        (SERIES, ISSUE.replace('"wide"', '"wild"'), 'three.toml, line 8, page 1, pages[1].panels'),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_where_it_stands(
    series: str, text: str, said: str, tmp_path: Path
) -> None:
    """A problem is told in the file that holds it, with its line."""
    with pytest.raises(InputError) as caught:
        plan_issue(load_issue(issue(tmp_path, text, series)))
    assert said in str(caught.value)


@pytest.mark.parametrize(
    ("reader", "name", "said"),
    [
        ("toml.file.lexists", "series.toml", "reading {}/three/../series.toml: no answer"),
        ("toml.file.lexists", "house.toml", "reading {}/formats/house.toml: no answer"),
        ("issue.label_font._beside", "own.ttf", 'reading the font "own.ttf": no answer'),
        ("raster.face.opened", "own.ttf", 'reading the font "own.ttf": no answer'),
    ],
)
def test_a_drive_that_is_gone(
    reader: str, name: str, said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nobody waits for ever for a series, a preset or a font that is named by its path."""
    file = issue(tmp_path, f'label_font = "own.ttf"\n{ISSUE}')
    font_file(tmp_path / "three" / "own.ttf", "Page1")
    assert load_issue(file).font
    silent(monkeypatch, f"guidekit.{reader}", name)
    with pytest.raises(MachineError) as caught:
        load_issue(file)
    assert str(caught.value).startswith(said.format(tmp_path))
