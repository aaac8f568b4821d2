"""The shipped presets as files: which there are, what each must say, and how they extend others."""

import re
import tomllib
from pathlib import Path

import pytest
from support.catalogue import PRESETS, preset_called, preset_source

from guidekit.preset import Preset
from guidekit.preset.source import comments, leaves
from guidekit.toml import read_toml

IDS = (
    "album-225x297", "album-240x320", "daily-strip", "digest", "four-panel-strip", "iso-a4",
    "iso-a5", "jis-a4-fanbook", "jis-b4-manuscript", "jis-b5", "jis-b6", "magazine", "square",
    "us-comic", "us-comic-art-board", "us-letter", "vertical-scroll", "zine-8-page",
    "zine-8-page-letter",
)  # fmt: skip
SOURCES = (
    "common practice, no source",
    "derived: ",
    "our choice",
    "ISO 216, through transcriptions",
    "JIS P 0138, through transcriptions",
    "ASME Y14.1 size ",
    "PWG 5101.1 ",
)


def preset(name: str) -> Preset:
    """A shipped preset, checked."""
    return preset_called(name)


def path(name: str) -> Path:
    """The file of a shipped preset."""
    return preset_source(name).path


def test_ids() -> None:
    """Exactly the presets of the list above are shipped, in the order of their names."""
    assert PRESETS == IDS


@pytest.mark.parametrize("name", IDS)
def test_loads(name: str) -> None:
    """Every shipped preset passes the model's checks and tells its user what, who and beware."""
    p = preset(name)
    assert p.title
    assert p.about.endswith(".")
    assert p.caution.endswith(".")
    assert "  " not in p.about + p.caution
    assert len(set(p.drawing)) == len(p.drawing)
    assert p.border.px(p.dpi) >= 2  # thinner would be a hairline: 0.1 mm at 600 dpi is 2.4 px


@pytest.mark.parametrize("name", IDS)
def test_every_number_has_its_source(name: str) -> None:
    """Behind every number of every file stands the class of its source, one of a short list."""
    file = path(name)
    found = comments(read_toml(file))
    for key, value in leaves(tomllib.loads(file.read_text("utf-8"))):
        if key in ("title", "about", "caution", "based_on"):
            continue
        number = type(value) is int or re.match(r"[\d.]", str(value))
        if number or key == "drawing":
            source = found.get(key) or found.get(key.split(".")[0], "")
            assert source.startswith(SOURCES), f"{file.name}: {key} has no source: {source!r}"


@pytest.mark.parametrize("name", IDS)
def test_every_number_line_ends_in_a_comment(name: str) -> None:
    """Read as plain lines, without guidekit's reader: a digit before the comment needs one."""
    text = re.sub(r'^\w+ = """.*?"""$', "", path(name).read_text("utf-8"), flags=re.S | re.M)
    for line in text.splitlines():
        if re.search(r"\d", line.split("#")[0]) and not line.startswith(("title", "based_on")):
            assert re.search(r"[^#]  # \w", line), line
        assert len(line) <= 100


def test_extends_keeps_the_rest() -> None:
    """A child has its own values with itself as origin, and all others from its parent's file."""
    child, parent = (preset_source(x) for x in ("jis-b6", "jis-b5"))
    assert child.name == "jis-b6"
    own = {key.split(".")[0] for key, _ in leaves(tomllib.loads(child.path.read_text("utf-8")))}
    assert own == {"based_on", "title", "about", "caution", "trim", "safe_area", "border", "gutter"}
    for key, value in leaves(child.values):
        origin = child.path if key.split(".")[0] in own else parent.path
        assert child.origins[key].name == origin.name
        if key.split(".")[0] not in own:
            assert dict(leaves(parent.values))[key] == value
    assert child.preset.drawing == parent.preset.drawing


def test_extends_changes_one_edge(tmp_path: Path) -> None:
    """One edge of a parent's single length can be changed, and the other three stay."""
    file = tmp_path / "mine.toml"
    file.write_text('based_on = "us-comic"\n[safe_area]\ninside = "0.5 in"\n', "utf-8")
    source = preset_source("mine.toml", tmp_path)
    assert [str(x) for _, x in (source.preset.safe_area)] == [
        "0.25 in",
        "0.25 in",
        "0.5 in",
        "0.25 in",
    ]
    origins = [source.origins[f"safe_area.{edge}"].name for edge in ("inside", "top")]
    assert origins == ["mine.toml", "us-comic.toml"]
