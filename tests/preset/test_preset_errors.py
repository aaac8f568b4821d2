"""Wrong presets: every message says where, what came and what is allowed."""

from pathlib import Path

import pytest

from guidekit.errors import InputError
from guidekit.preset import PresetRegistry, shipped_registry

GOOD = {
    "title": '"Mine"',
    "dpi": "300",
    "trim": '{ width = "100 mm", height = "200 mm" }',
    "gutter": '"4 mm"',
    "border": '"1 mm"',
    "lettering": '{ capitals = "2 mm", space = "1 mm" }',
    "drawing": '["Inks"]',
}
LENGTH = "(mm, cm, in, pt or px)"
MISSING = "nothing is there. Allowed: this key must be given."


def page(**changes: str | None) -> str:
    """A good preset as TOML text with some values changed or, if `None`, left out."""
    return "\n".join(f"{k} = {v}" for k, v in (GOOD | changes).items() if v is not None)


def message(folder: Path, content: str | bytes, name: str = "mine.toml") -> str:
    """What `InputError` says of a preset file with this content."""
    data = content.encode() if isinstance(content, str) else content
    (folder / "mine.toml").write_bytes(data)
    with pytest.raises(InputError) as caught:
        _ = shipped_registry().source(name, folder).preset
    return str(caught.value)


def test_the_good_page_is_good(tmp_path: Path):
    """The page that the tests below spoil is itself accepted, at the least and largest dpi."""
    for dpi in ("1", "10000"):
        (tmp_path / "mine.toml").write_text(page(dpi=dpi), "utf-8")
        assert PresetRegistry(tmp_path).source("mine").preset.dpi == int(dpi)


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("dpi", "0", "got 0. Allowed: at least 1."),
        ("dpi", "-300", "got -300. Allowed: at least 1."),
        ("dpi", "10001", "got 10001. Allowed: at most 10,000."),
        ("dpi", '"600"', "got '600'. Allowed: a whole number."),
        ("dpi", "1.5", "got 1.5. Allowed: a whole number."),
        ("dpi", "true", "got true. Allowed: a whole number."),
        ("dpi", None, MISSING),
        ("drawing", None, MISSING),
        ("drawing", '"Inks"', "got 'Inks'. Allowed: a list in square brackets."),
        ("title", "7", "got 7. Allowed: text in quotes."),
        ("trim", '"100 mm"', "got '100 mm'. Allowed: a table."),
        ("colour", '"black"', "got 'black'. Allowed: 'rgb' or 'grey'."),
        ("direction", '"RTL"', "got 'RTL'. Allowed: 'ltr' or 'rtl'."),
        (
            "paper",
            '"white"',
            "got 'white'. Allowed: a colour as six hexadecimal digits, as in \"#ffffff\".",
        ),
        ("scale", "0.6", 'got 0.6. Allowed: a ratio in quotes, as in "2/3" or "0.6".'),
        ("scale", '"0"', "got '0'. Allowed: a ratio above 0."),
        ("scale", '"2/0"', "got '2/0'. Allowed: a ratio above 0."),
        ("border", "3", f'got 3. Allowed: a length needs its unit, as in "3 mm" {LENGTH}.'),
        ("border", "0.5", f'got 0.5. Allowed: a length needs its unit, as in "0.5 mm" {LENGTH}.'),
        (
            "border",
            '"3 ell"',
            "got '3 ell'. Allowed: \"ell\" is no unit known here; use mm, cm, in, pt or px.",
        ),
        ("border", '"-1 mm"', "got '-1 mm'. Allowed: a length of 0 or more."),
        ("border", '"1/0 in"', "got '1/0 in'. Allowed: a fraction cannot have 0 below its line."),
        (
            "border",
            '"3,5 mm"',
            "got '3,5 mm'. Allowed: a length is a number and a unit, "
            f'as in "3 mm" or "1/8 in" {LENGTH}.',
        ),
    ],
)
def test_one_wrong_value(tmp_path: Path, key: str, value: str | None, said: str):
    """A value that cannot stand is quoted with its file and key; texts are guidekit's own."""
    assert message(tmp_path, page(**{key: value})) == f"mine.toml: {key}: {said}"


@pytest.mark.parametrize(
    ("changes", "allowed"),
    [
        (
            {"safe_area": '{ inside = "60 mm", outside = "40 mm" }'},
            "safe_area.inside + safe_area.outside smaller than the page's width",
        ),
        (
            {"safe_area": '"50 mm"', "trim": '{ width = "101 mm", height = "100 mm" }'},
            "safe_area.top + safe_area.bottom smaller than the page's height",
        ),
        (
            {"sheet": '{ width = "105.9 mm", height = "206 mm" }', "bleed": '"3 mm"'},
            "a sheet whose width holds the trim and its bleed",
        ),
        (
            {"sheet": '{ width = "90 mm", height = "190 mm" }'},
            "a sheet whose width holds the trim and its bleed; "
            "a sheet whose height holds the trim and its bleed",
        ),
        (
            {"trim": '{ width = "1 mm", height = "300001 px" }'},
            "a canvas height of at most 300,000 px at 300 dpi",
        ),
        (
            {"trim": '{ width = "299999 px", height = "1 in" }', "bleed": '"1 px"'},
            "a canvas width of at most 300,000 px at 300 dpi",
        ),
        ({"trim": '{ width = "0 mm", height = "1 mm" }'}, "a page width of at least 1 px"),
        ({"trim": None}, "either [trim], for a printed page, or [scroll], for a screen"),
    ],
)
def test_values_that_do_not_fit(tmp_path: Path, changes: dict[str, str | None], allowed: str):
    """Values that exclude each other are refused; 300,000 px is the PSB specification's limit."""
    said = message(tmp_path, page(**changes))
    assert said == f"mine.toml: does not fit together. Allowed: {allowed}."


@pytest.mark.parametrize(
    ("changes", "begins", "ends"),
    [
        ({"gutters": '"4 mm"'}, "gutters: unknown key. Allowed: about,", 'mean "gutter"?'),
        ({"Trim": "{}"}, "Trim: unknown key. Allowed: about,", 'mean "trim"?'),
        (
            {"safe_area": '{ insde = "1 mm" }'},
            "safe_area.insde: unknown key. Allowed: bottom, inside, outside or top.",
            'top. Did you mean "inside"?',
        ),
        (
            {"gutter": '{ across = "1 mm", down = "2 mm", left = "3 mm" }'},
            "gutter.left: unknown key. Allowed: across or down.",
            "down.",
        ),
    ],
)
def test_unknown_key(tmp_path: Path, changes: dict[str, str], begins: str, ends: str):
    """An unknown key is named with its table, all known keys and the nearest one, if any."""
    said = message(tmp_path, page(**changes))
    assert said.startswith(f"mine.toml: {begins}")
    assert said.endswith(ends)
    assert "\n" not in said


def test_all_problems_at_once(tmp_path: Path):
    """Every wrong value of a file is reported, one a line."""
    said = message(tmp_path, page(dpi="0", border="3", colour='"black"', title=None, boarder='"1"'))
    lines = sorted(line.split(". Allowed: ")[0] for line in said.splitlines())
    assert lines == [
        "mine.toml: boarder: unknown key",
        "mine.toml: border: got 3",
        "mine.toml: colour: got 'black'",
        "mine.toml: dpi: got 0",
        "mine.toml: title: nothing is there",
    ]


def test_unknown_name(tmp_path: Path):
    """An unknown preset is refused with all names and the nearest, wherever it was asked for."""
    known = ", ".join(shipped_registry().names()[:-1])
    said = f'there is no preset "us-comc". Allowed: {known} or zine-8-page-letter, '
    said += 'or the path of a .toml file. Did you mean "us-comic"?'
    assert message(tmp_path, "", name="us-comc") == f"preset: {said}"
    assert message(tmp_path, 'based_on = "us-comc"') == f"mine.toml: based_on: {said}"
    number = message(tmp_path, "based_on = 3")
    assert number == "mine.toml: based_on: got 3. Allowed: the name of one preset."


def test_circle(tmp_path: Path):
    """Presets that extend each other in a circle are refused, and the circle is drawn."""
    (tmp_path / "other.toml").write_text('based_on = "mine.toml"', "utf-8")
    assert message(tmp_path, 'based_on = "other.toml"') == (
        "mine.toml: based_on: the presets extend each other in a circle "
        "(mine.toml → other.toml → mine.toml). "
        'Allowed: a chain that ends. Remove one "based_on".'
    )


def test_two_files_of_one_name(tmp_path: Path):
    """A second preset of the same name is refused with both paths."""
    (tmp_path / "us-comic.toml").write_text(page(), "utf-8")
    shipped = shipped_registry().source("us-comic").path
    with pytest.raises(InputError) as caught:
        PresetRegistry(shipped.parent, tmp_path)
    assert str(caught.value) == (
        f'{tmp_path / "us-comic.toml"}: a preset "us-comic" is there already, from {shipped}. '
        "Allowed: one file for each name. Rename one of the two."
    )


@pytest.mark.parametrize(
    ("name", "content", "came", "todo"),
    [
        ("folder.toml", b"", "this is a folder", "Name the file in it."),
        ("mine.toml", b'title = "\xff"', "byte 9 is not UTF-8", "Save the file as UTF-8."),
        ("mine.toml", b"x = " + b"[" * 100_000, "tables are nested too deeply", "Nest less."),
        (
            "mine.toml",
            b"#" * 4_000_001,
            "the file has more than 4,000,000 bytes",
            "Is it the right file?",
        ),
    ],
    ids=["folder", "not UTF-8", "deep", "large"],
)
def test_no_readable_file(tmp_path: Path, name: str, content: bytes, came: str, todo: str):
    """What is no TOML text file is refused by its whole path, with what to do."""
    (tmp_path / "folder.toml").mkdir()
    said = message(tmp_path, content, name)
    assert said == f"{tmp_path / name}: {came}. Allowed: a TOML text file in UTF-8. {todo}"


@pytest.mark.parametrize("name", ["none.toml", "mine.toml/x.toml", "a\0b.toml"])
def test_missing_file(tmp_path: Path, name: str):
    """A path that leads to no file is refused where it was given."""
    (tmp_path / "mine.toml").write_text(page(), "utf-8")
    with pytest.raises(InputError) as caught:
        shipped_registry().source(name, tmp_path)
    assert str(caught.value) == (
        f'preset: there is no file "{name}". Allowed: the path of a .toml file.'
    )


def test_broken_toml(tmp_path: Path):
    """Broken TOML is refused with the line; what stands before the line is Python's tomllib's."""
    said = message(tmp_path, 'title = "Mine"\ndpi = \ngutter = "4 mm"')
    assert said.startswith(f"{tmp_path / 'mine.toml'}: the TOML is broken: ")
    assert "(at line 2, column 7). Allowed: a TOML text file in UTF-8. Mend that line." in said
