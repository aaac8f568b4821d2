"""Slips in the writing of TOML: told with the line, what is wrong with it and how to write it."""

import tomllib
from pathlib import Path

import pytest

from guidekit.errors import InputError
from guidekit.toml.file import read_toml

QUOTES = "text and lengths stand in quotes"
INNER = "quotes inside quotes have a backslash"

#: A line, the rule that it breaks, and how it is to be written.
MENDED = {
    "curly quotes": (
        "title = “The Salt Road”", "text stands in straight quotes", 'title = "The Salt Road"'
    ),
    "low quotes": ("title = „Salz“", "text stands in straight quotes", 'title = "Salz"'),
    "True": ("spread = True", "true is written small", "spread = true"),
    "FALSE": ("mirror = FALSE # x", "false is written small", "mirror = false # x"),
    "a length": ("gutter = 3 mm", QUOTES, 'gutter = "3 mm"'),
    "a length without its nought": ("gutter = .25in", QUOTES, 'gutter = "0.25 in"'),
    "a decimal comma": (
        "gutter = 0,25 in", "numbers have a decimal point", 'gutter = "0.25 in"'
    ),
    "an inch mark": ('gutter = 1/4"', "inches are written as in", 'gutter = "1/4 in"'),
    "degrees": ("slant = 8°", QUOTES, 'slant = "8 deg"'),
    "dots an inch": ("dpi = 300dpi", QUOTES, "dpi = 300"),
    "a number with noughts": ("count = 007", QUOTES, "count = 7"),
    "a word": ("preset = us-comic  # ours", QUOTES, 'preset = "us-comic"  # ours'),
    "words in a list": ("drawing = [Inks, Pencils]", QUOTES, 'drawing = ["Inks", "Pencils"]'),
    "lengths in a table": (
        "trim = { width = 6 in, height = .5 cm }", QUOTES,
        'trim = { width = "6 in", height = "0.5 cm" }',
    ),
    "a line of a list": (
        "{ widths = [1, 2], height = 30 % },", QUOTES, '{ widths = [1, 2], height = "30 %" },'
    ),
    "a list without commas": (
        "tiers = [2  3 1]", "entries have commas between them", "tiers = [2, 3, 1]"
    ),
    "a comma at the end of a table": (
        "tiers = [{ panels = 3, height = 2, }]", "no comma stands before }",
        "tiers = [{ panels = 3, height = 2 }]",
    ),
    "a colon": ("number: 2", "an = stands behind a key", "number = 2"),
    "a colon and a word": ("preset: a5", "an = stands behind a key", 'preset = "a5"'),
    "no last quote": ('title = "The Salt', "text has quotes at both ends", 'title = "The Salt"'),
    "a bracket too few": ("[[pages]", "a list of tables has two brackets", "[[pages]]"),
    "a bracket too many": ("[pages]]", "a list of tables has two brackets", "[[pages]]"),
    "an apostrophe": ("note = 'it's'", INNER, 'note = "it\'s"'),
    "quotes inside": ('note = "a "b" c"', INNER, r'note = "a \"b\" c"'),
    "a path": (
        r'label_font = "C:\fonts\x.ttf"', "a backslash stands in single quotes",
        r"label_font = 'C:\fonts\x.ttf'",
    ),
}  # fmt: skip

#: A whole text, the line that is told, and what is said of it.
TOLD = {
    "nothing behind =": ("a = 1\nb = # x", 2, "b = # x has nothing behind the =. Write a value "
        "there."),
    "a key twice": ("a = 1\nb = 2\na = 3", 3, "a = 3 is not TOML: this key is there already. Take "
        "one of the two out."),
    "a table twice": ("[a]\n[b]\n[a]", 3, "[a] is not TOML: this table is there already. Put both "
        "into one."),
    "no =": ("a 1", 1, "a 1 is not TOML: there is no = behind the key. Write key = value."),
    "a list without end": ("a = 1\nb = [\n  2,\n[[c]]\n[d]", 2, "a list that is opened here has no "
        "end. Close it with ]."),
    "a list without end at the end": ("a = [1", 1, "a list that is opened here has no end. Close "
        "it with ]."),
    "a text without end": ('a = """\nb\nc', 1, "a text that begins here has no end. Close it with "
        "its quotes."),
    "what is no usual slip": ("a = 1\n*b = 2", 2, "*b = 2 is not TOML: invalid statement. "
        "Mend that line."),
    "a line of any length": ("a" * 200, 1, f"{'a' * 99}… is not TOML: there is no = behind the "
        "key. Write key = value."),
}  # fmt: skip


def said(folder: Path, text: str) -> str:
    """What is said of a file with this text, without its name."""
    path = folder / "issue.toml"
    path.write_bytes(text.encode())
    with pytest.raises(InputError) as caught:
        read_toml(path)
    return str(caught.value).removeprefix("issue.toml, ")


@pytest.mark.parametrize(("line", "rule", "mended"), MENDED.values(), ids=MENDED)
def test_a_line_is_mended(tmp_path: Path, line: str, rule: str, mended: str) -> None:
    """A usual slip is told with its line, the rule and the line as it is to be written."""
    text = f"# a comment\r\n{line}\r\n"
    assert said(tmp_path, text) == f"line 2: {line} is not TOML, in which {rule}. Write {mended}"


@pytest.mark.parametrize(("line", "_", "mended"), MENDED.values(), ids=MENDED)
def test_what_is_to_be_written_is_toml(line: str, _: str, mended: str) -> None:
    """What tomllib refuses is the line as it was; it reads what we ask to write."""
    listed = mended.endswith(",")
    with pytest.raises(tomllib.TOMLDecodeError):
        tomllib.loads(f"x = [\n{line}\n]" if listed else line)
    assert tomllib.loads(f"x = [\n{mended}\n]" if listed else mended)


@pytest.mark.parametrize(("text", "line", "told"), TOLD.values(), ids=TOLD)
def test_what_cannot_be_mended(tmp_path: Path, text: str, line: int, told: str) -> None:
    """Where one line does not show how to write it, the line is told and what to do."""
    assert said(tmp_path, text) == f"line {line}: {told}"
