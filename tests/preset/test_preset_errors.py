"""Wrong values in presets: every message says where, what came and what is allowed."""

from pathlib import Path

import pytest
from support.catalogue import preset_source
from support.preset_texts import GOOD, message, page

from guidekit.errors import one_of
from guidekit.preset import Preset

OTHERS = "or another unit: cm, in, pt or px."
RATIO = 'Write a ratio above 0 in quotes, as in "2/3" or "0.6".'
PRESET_KEYS = one_of([*Preset.model_fields, "based_on"])


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
