"""Which file a preset stands in, and on which others it is based; files that cannot be read."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
from support.catalogue import preset_called, preset_source
from support.preset_texts import message, page

from guidekit.errors import ClashError, InputError
from guidekit.preset import find_preset, preset_files
from guidekit.shipped import shipped

DEEP = "tables and lists are nested too deeply, more than 100 in each other"


def test_the_right_file(tmp_path: Path) -> None:
    """Along a chain of presets each wrong value is told in its own file, with the line there."""
    (tmp_path / "base.toml").write_text(page(border='"thin"', dpi="0"), "utf-8")
    (tmp_path / "middle.toml").write_text('based_on = "base.toml"\ndpi = -1\n', "utf-8")
    said = message(tmp_path, 'based_on = "middle.toml"\n\ngutter.across = 4\n')
    assert [line.partition(": ")[0] for line in said.splitlines()] == [
        "middle.toml, line 2, dpi",
        "mine.toml, line 3, gutter.across",
        "base.toml, line 5, border",
    ]


def test_the_value_changed_last(tmp_path: Path) -> None:
    """Of values that do not fit together the one that was written last is told."""
    (tmp_path / "base.toml").write_text(page(safe_area='"20 mm"'), "utf-8")
    text = 'based_on = "base.toml"\n\ntrim = { width = "30 mm", height = "200 mm" }\n'
    assert message(tmp_path, text) == (
        "mine.toml, line 3, trim.width: safe_area inside and outside together are as much as the "
        "page's width, or more. Write less than the width for both together."
    )


def test_unknown_name(tmp_path: Path) -> None:
    """An unknown preset is refused with the nearest name, wherever it was asked for."""
    said = 'there is no preset "us-comc". Did you mean "us-comic"?'
    assert message(tmp_path, "", name="us-comc") == f"preset: {said}"
    assert message(tmp_path, 'based_on = "us-comc"') == f"mine.toml, line 1, based_on: {said}"
    number = message(tmp_path, "based_on = 3")
    assert number == (
        "mine.toml, line 1, based_on: 3 is not the name of a preset. Write the name of one preset."
    )


def test_circle(tmp_path: Path) -> None:
    """Presets that are based on each other in a circle are refused, and the circle is drawn."""
    (tmp_path / "other.toml").write_text('based_on = "mine.toml"', "utf-8")
    assert message(tmp_path, 'based_on = "other.toml"') == (
        "mine.toml, line 1, based_on: the presets are based on each other in a circle "
        "(mine.toml → other.toml → mine.toml). Take out one based_on."
    )


def test_two_files_of_one_name(tmp_path: Path) -> None:
    """A second preset of the same name is refused with both who brought them."""
    (tmp_path / "us-comic.toml").write_text(page(), "utf-8")
    both = shipped().presets.adding(*preset_files(tmp_path, "a studio"))
    with pytest.raises(ClashError, match='two presets "us-comic", from guidekit and from a studio'):
        both.find("us-comic")


@pytest.mark.parametrize(
    ("name", "content", "place", "said"),
    [
        ("folder.toml", b"", "", "this is a folder. Name the file in it."),
        ("mine.toml", b"a = 1\nb = '\xff'", ", line 2", "byte 11 is not UTF-8. Save the file as "
            "UTF-8."),
        ("mine.toml", b"x = " + b"[" * 100_000, "", f"{DEEP}. Nest less."),
        ("mine.toml", b"x = 1\na" + b".a" * 200 + b" = 1", ", line 2", f"{DEEP}. Nest less."),
        ("mine.toml", b"#" * 4_000_001, "", "this file has more than 4,000,000 bytes, which no "
            "text file of ours has. Name the TOML file."),
        ("mine.toml", b"dpi = " + b"9" * 5_000, ", line 1", "a number is beyond all measure. "
            "Write a smaller one."),
        ("mine.toml", b"dpi = \n", ", line 1", "dpi = has nothing behind the =. Write a value "
            "there."),
    ],
    ids=["folder", "not UTF-8", "deep", "deep key", "large", "large number", "broken"],
)  # fmt: skip
def test_no_readable_file(tmp_path: Path, name: str, content: bytes, place: str, said: str) -> None:
    """What is no TOML text file is refused by its line, or by its whole path if it has none."""
    (tmp_path / "folder.toml").mkdir()
    file = name if place else tmp_path / name
    assert message(tmp_path, content, name) == f"{file}{place}: {said}"


@pytest.mark.parametrize("name", ["none.toml", "mine.toml/x.toml", "a\0b.toml"])
def test_missing_file(tmp_path: Path, name: str) -> None:
    """A path that leads to no file is refused where it was given."""
    (tmp_path / "mine.toml").write_text(page(), "utf-8")
    with pytest.raises(InputError) as caught:
        preset_source(name, tmp_path)
    assert str(caught.value) == (
        f"preset: there is no file {json.dumps(name)}. Write the path of a .toml file."
    )


def test_based_on_what_it_shadows(tmp_path: Path) -> None:
    """A preset based on its own name means the one that it shadows, which is no circle."""
    (tmp_path / "us-comic.toml").write_text('based_on = "us-comic"\ngutter = "9 mm"\n', "utf-8")
    ours = shipped()
    above = ours.presets.shadowed_by(*preset_files(tmp_path, "a studio"))
    source = find_preset("us-comic", replace(ours, presets=above))
    assert str(source.preset.gutter.across) == "9 mm"
    assert source.preset.trim == preset_called("us-comic").trim
    assert [link.owner for link in source.chain] == ["a studio", "guidekit"]
