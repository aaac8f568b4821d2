"""Wrong presets: every message says where, what came and what is allowed."""

import json
from dataclasses import replace
from pathlib import Path

import pytest
from support.catalogue import preset_called, preset_source

from guidekit.errors import ClashError, InputError, one_of
from guidekit.preset import Preset, find_preset, preset_files
from guidekit.shipped import shipped

GOOD = {
    "title": '"Mine"',
    "dpi": "300",
    "trim": '{ width = "100 mm", height = "200 mm" }',
    "gutter": '"4 mm"',
    "border": '"1 mm"',
    "lettering": '{ capitals = "2 mm", space = "1 mm" }',
    "drawing": '["Inks"]',
}
OTHERS = "or another unit: cm, in, pt or px."
RATIO = 'Write a ratio above 0 in quotes, as in "2/3" or "0.6".'
DEEP = "tables and lists are nested too deeply, more than 100 in each other"
PRESET_KEYS = one_of([*Preset.model_fields, "based_on"])


def page(**changes: str | None) -> str:
    """A good preset as TOML text with some values changed or, if `None`, left out."""
    return "\n".join(f"{k} = {v}" for k, v in (GOOD | changes).items() if v is not None)


def message(folder: Path, content: str | bytes, name: str = "mine.toml") -> str:
    """What `InputError` says of a preset file with this content."""
    data = content.encode() if isinstance(content, str) else content
    (folder / "mine.toml").write_bytes(data)
    with pytest.raises(InputError) as caught:
        _ = preset_source(name, folder).preset
    return str(caught.value)


def test_the_good_page_is_good(tmp_path: Path) -> None:
    """The page that the tests below spoil is itself accepted, at the least and largest dpi."""
    for dpi in ("1", "10000"):
        (tmp_path / "mine.toml").write_text(page(dpi=dpi), "utf-8")
        assert preset_source("mine.toml", tmp_path).preset.dpi == int(dpi)


def line_of(key: str, **changes: object) -> int:
    """The line of `page` on which a key stands."""
    return [*(GOOD | changes)].index(key) + 1


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("dpi", "0", "0 is too small. Write 1 or more."),
        ("dpi", "-300", "-300 is too small. Write 1 or more."),
        ("dpi", "10001", "10001 is too large. Write 10,000 or less."),
        ("dpi", '"600"', '"600" is not a whole number. Write 600, without quotes.'),
        ("dpi", '"300dpi"', '"300dpi" is not a whole number. Write 300, without quotes.'),
        ("dpi", "1.5", "1.5 is not a whole number."),
        ("dpi", "true", "true is not a whole number."),
        ("drawing", '"Inks"', '"Inks" is not a list. Write ["Inks"], in square brackets.'),
        ("title", "7", '7 is not text in quotes. Write "7", in quotes.'),
        (
            "trim",
            '"100 mm"',
            '"100 mm" is not a table. Write { width = "6.625 in", height = "10.25 in" }.',
        ),
        ("colour", '"GREY"', '"GREY" is not "rgb" or "grey". Write "grey".'),
        ("depth", '"16"', '"16" is not 8 or 16. Write 16, without quotes.'),
        ("colour", '"black"', '"black" is not "rgb" or "grey".'),
        ("direction", '"RTL"', '"RTL" is not "ltr" or "rtl". Write "rtl".'),
        ("facing", '"no"', '"no" is not true or false. Write false, without quotes.'),
        (
            "paper",
            '"white"',
            '"white" is not a colour. Write six hexadecimal digits, as in "#ffffff".',
        ),
        ("scale", "0.6", f"0.6 is not a ratio. {RATIO}"),
        ("scale", '"0"', f'"0" is not above 0. {RATIO}'),
        ("scale", '"2/0"', f'"2/0" is not above 0. {RATIO}'),
        ("border", "3", f'3 has no unit. Write "3 mm", {OTHERS}'),
        ("border", "0.5", f'0.5 has no unit. Write "0.5 mm", {OTHERS}'),
        ("border", '"3 ell"', '"3 ell" has an unknown unit. Write mm, cm, in, pt or px.'),
        ("border", '"-1 mm"', '"-1 mm" is less than nothing. Write a length of 0 or more.'),
        (
            "border",
            '"1/0 in"',
            '"1/0 in" has 0 below its line. Write a number and a unit, as in "3 mm" or "1/8 in".',
        ),
        ("border", '"3,5 mm"', '"3,5 mm" is not a length. Write "3.5 mm", with a point.'),
        ("border", '{ a = 1 }', "{ a = 1 } is not a length. "
            'Write a number and a unit, as in "3 mm" or "1/8 in".'),
        ("guides", '["trim"]', '["trim"] is not a table. '
            'Write a table such as { thirds = "shown" }.'),
    ],
)  # fmt: skip
def test_one_wrong_value(tmp_path: Path, key: str, value: str, said: str) -> None:
    """A value that cannot stand is quoted with its line and key, and with how to write it."""
    place = f"mine.toml, line {line_of(key, **{key: value})}, {key}"
    assert message(tmp_path, page(**{key: value})) == f"{place}: {said}"


@pytest.mark.parametrize(
    ("key", "add"),
    [
        ("dpi", "dpi = 600"),
        ("drawing", 'drawing = ["Pencils", "Inks"]'),
        ("border", 'border = "1 mm"'),
    ],
)
def test_a_missing_key(tmp_path: Path, key: str, add: str) -> None:
    """A key that is not there has no line, and is told with an example of it."""
    said = f"mine.toml, {key}: this key is missing. Add {add}."
    assert message(tmp_path, page(**{key: None})) == said


def test_a_missing_key_of_a_table(tmp_path: Path) -> None:
    """A key that a table lacks is told on the line of the table."""
    assert message(tmp_path, page(trim='{ width = "100 mm" }')) == (
        'mine.toml, line 3, trim.height: this key is missing. Add height = "10.25 in".'
    )


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        (
            {"safe_area": '{ inside = "60 mm", outside = "40 mm" }'},
            "line 8, safe_area: safe_area inside and outside together are as much as the page's "
            "width, or more. Write less than the width for both together.",
        ),
        (
            {"safe_area": '"50 mm"', "trim": '{ width = "101 mm", height = "100 mm" }'},
            "line 8, safe_area: safe_area top and bottom together are as much as the page's "
            "height, or more. Write less than the height for both together.",
        ),
        (
            {"sheet": '{ width = "105.9 mm", height = "206 mm" }', "bleed": '"3 mm"'},
            "line 8, sheet.width: the sheet's width does not hold the trim and its bleed. "
            "Write a larger width of the sheet.",
        ),
        (
            {"sheet": '{ width = "90 mm", height = "190 mm" }'},
            "line 8, sheet.width: the sheet's width does not hold the trim and its bleed. "
            "Write a larger width of the sheet.\n"
            "mine.toml, line 8, sheet.height: the sheet's height does not hold the trim and its "
            "bleed. Write a larger height of the sheet.",
        ),
        (
            {"trim": '{ width = "1 mm", height = "300001 px" }'},
            "line 3, trim.height: the canvas would be 300,001 px in height at 300 dpi. "
            "Take a smaller height or a lower dpi: at most 300,000 px.",
        ),
        (
            {"trim": '{ width = "299999 px", height = "1 in" }', "bleed": '"1 px"'},
            "line 3, trim.width: the canvas would be 300,001 px in width at 300 dpi. "
            "Take a smaller width or a lower dpi: at most 300,000 px.",
        ),
        (
            {"trim": '{ width = "0 mm", height = "1 mm" }'},
            "line 3, trim.width: the page's width is less than a pixel. Write at least 1 px.",
        ),
        (
            {"square_grid": '"3 px"'},
            "line 8, square_grid: 3 px is less than 4 px. Write at least 4 px, or 0 px for none.",
        ),
        (
            {"panel_groups": '["Inks", "Pencil"]'},
            'line 8, panel_groups[2]: "Pencil" is not one of the drawing layers. Write "Inks".',
        ),
    ],
)
def test_values_that_do_not_fit(tmp_path: Path, changes: dict[str, str | None], said: str) -> None:
    """Values that exclude each other are refused; 300,000 px is the PSB specification's limit."""
    assert message(tmp_path, page(**changes)) == f"mine.toml, {said}"


def test_neither_trim_nor_scroll(tmp_path: Path) -> None:
    """A preset is for a printed page or for a screen."""
    assert message(tmp_path, page(trim=None)) == (
        f"{tmp_path / 'mine.toml'}: neither trim nor scroll is here. "
        "Write either trim, for a printed page, or scroll, for a screen."
    )


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"gutters": '"4 mm"'}, 'gutters: there is no such key. Did you mean "gutter"?'),
        ({"Trim": "{}"}, 'Trim: there is no such key. Did you mean "trim"?'),
        (
            {"safe_area": '{ insde = "1 mm" }'},
            'safe_area.insde: there is no such key. Did you mean "inside"?',
        ),
        ({"xyzzy": "1"}, f"xyzzy: there is no such key. Write {PRESET_KEYS}."),
    ],
)
def test_unknown_key(tmp_path: Path, changes: dict[str, str], said: str) -> None:
    """An unknown key is told with the nearest one, or with all if none is near."""
    assert message(tmp_path, page(**changes)) == f"mine.toml, line 8, {said}"


def test_unknown_key_of_a_table(tmp_path: Path) -> None:
    """An unknown key of a table is told with those of the table."""
    assert message(tmp_path, page(gutter='{ across = "1 mm", down = "2 mm", left = "3 mm" }')) == (
        "mine.toml, line 4, gutter.left: there is no such key. Write across or down."
    )


def test_old_spellings(tmp_path: Path) -> None:
    """Keys as they were once spelled are told all at once, each with what to write now."""
    text = """\
extends = "us-comic"
safe = "3 mm"
pages = "facing"
equal = "exact"
lettering.fill = "panels"
scroll = { width = "1 in", part = "3 in", screen = "1 in", delivery_width = "1 in", gaps = {
close = "1 mm", normal = "1 mm", scene = "1 mm" } }
"""
    old = "this key has another name now. Write"
    assert message(tmp_path, text.replace("{\n", "{ ")).splitlines() == [
        f"mine.toml, line 1, extends: {old} based_on.",
        f"mine.toml, line 2, safe: {old} safe_area.",
        f"mine.toml, line 3, pages: {old} facing = true, or false for single pages.",
        f'mine.toml, line 4, equal: {old} spare_pixels, which is "shared" or "margin".',
        f'mine.toml, line 5, lettering.fill: {old} rule_over, which is "safe_area" or "panels".',
        f"mine.toml, line 6, scroll.part: {old} canvas_height.",
    ]


def test_all_problems_at_once(tmp_path: Path) -> None:
    """Every wrong value of a file is told in the order of lines, after what is missing."""
    said = message(tmp_path, page(dpi="0", border="3", colour='"black"', title=None, boarder='"1"'))
    assert [line.partition(": ")[0] for line in said.splitlines()] == [
        "mine.toml, title",
        "mine.toml, line 1, dpi",
        "mine.toml, line 4, border",
        "mine.toml, line 7, colour",
        "mine.toml, line 8, boarder",
    ]


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
