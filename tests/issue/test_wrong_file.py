"""Files that cannot be read as an issue or preset, and several problems at once."""

import tomllib
from pathlib import Path

import pytest
from support.samples import HEAD, SPLASH, Run, contents, issue_file, refused, run_here

from guidekit import InputError, load_issue

ALLOWED = "Allowed: a TOML text file in UTF-8."


def build(path: Path) -> Run:
    """A build that is to fail before there is a folder."""
    run = run_here("build", path, "--out", path.parent / "out")
    assert not (path.parent / "out").exists()
    return run


@pytest.mark.parametrize(
    ("text", "line"),
    [("title = \n", 1), ('title = "x"\n[[pages]\n', 2), ("a = 1\nb = 2\na = 3\n", 3)],
)
def test_broken_toml(tmp_path: Path, text: str, line: int):
    """Broken TOML is told with the parser's own words, which name the line."""
    with pytest.raises(tomllib.TOMLDecodeError) as caught:
        tomllib.loads(text)
    assert f"line {line}," in str(caught.value)
    path = issue_file(tmp_path, text)
    said = f"guidekit: {path}: the TOML is broken: {caught.value}. {ALLOWED} Mend that line.\n"
    assert build(path) == (2, "", said)


def test_folder_in_place_of_a_file(tmp_path: Path):
    """A folder given as the issue is told to be one."""
    (tmp_path / "book").mkdir()
    said = f"{tmp_path / 'book'}: this is a folder. {ALLOWED} Name the file in it."
    assert build(tmp_path / "book") == (2, "", f"guidekit: {said}\n")


@pytest.mark.parametrize("name", ["none.toml", "issue.toml/none.toml", ""])
def test_no_file(tmp_path: Path, name: str):
    """A path that leads nowhere, or below a file, is told to be missing."""
    path = issue_file(tmp_path).parent / (name or "a\nb")
    said = f"{path}: there is no such file. {ALLOWED} Check the name and the folder."
    assert build(path) == (2, "", f"guidekit: {said}\n")


@pytest.mark.parametrize(
    ("data", "came", "todo"),
    [
        (b"title = '\xe9'", "byte 9 is not UTF-8", "Save the file as UTF-8."),
        (b"8BPS\0\1\0\0\0\0\0\0\0\3\0\0\xff", "byte 16 is not UTF-8", "Save the file as UTF-8."),
        (b"#" * 4_000_001, "the file has more than 4,000,000 bytes", "Is it the right file?"),
        (b"a = " + b"[" * 9999, "tables are nested too deeply", "Nest less."),
    ],
    ids=["Latin 1", "picture", "large", "deep"],
)
def test_no_text_file(tmp_path: Path, data: bytes, came: str, todo: str):
    """What is no text in UTF-8 of a sensible size is refused with its reason."""
    path = tmp_path / "issue.toml"
    path.write_bytes(data)
    assert build(path) == (2, "", f"guidekit: {path}: {came}. {ALLOWED} {todo}\n")


def test_byte_order_mark(tmp_path: Path):
    """A byte order mark, which some editors put first, and Windows line ends are no problem."""
    path = tmp_path / "issue.toml"
    path.write_bytes(("\ufeff" + HEAD + SPLASH).replace("\n", "\r\n").encode())
    assert load_issue(path).issue.title == "The Salt Road"


def test_empty_file(tmp_path: Path):
    """An empty file lacks three keys, and all three are named."""
    missing = "nothing is there. Allowed: this key must be given."
    lines = [f"issue.toml: {key}: {missing}\n" for key in ("title", "preset", "pages")]
    assert refused(tmp_path, "") == "guidekit: " + "".join(lines)


def test_presets_in_a_circle(tmp_path: Path):
    """Presets that extend each other in a circle are refused, and the circle is drawn."""
    for name, parent in (("a", "b"), ("b", "c"), ("c", "b")):
        (tmp_path / f"{name}.toml").write_text(f'based_on = "{parent}.toml"\n', "utf-8")
    assert refused(tmp_path, HEAD.replace("us-comic", "a.toml") + SPLASH) == (
        "guidekit: b.toml: based_on: the presets extend each other in a circle (b.toml → c.toml → "
        'b.toml). Allowed: a chain that ends. Remove one "based_on".\n'
    )


def test_several_problems(tmp_path: Path):
    """All problems of issue, format and pages come together, one a line, each once."""
    text = """\
titel = "x"
number = -1
preset = "us-comic"
format.gutter = 3
format.border = "3 ell"

[[pages]]
count = 0
panels = 1

[[pages]]
map = "A B A"
panel.A.bleed = "left"
"""
    said = refused(tmp_path, text).removeprefix("guidekit: ").splitlines()
    assert sorted(line.partition(". Allowed: ")[0] for line in said) == [
        "issue.toml: format: border: got '3 ell'",
        "issue.toml: format: gutter: got 3",
        "issue.toml: number: got -1",
        "issue.toml: pages[1].count: got 0",
        "issue.toml: pages[2].map: got 'A B A'",
        "issue.toml: pages[2].panel.A.bleed: got 'left'",
        "issue.toml: titel: unknown key",
        "issue.toml: title: nothing is there",
    ]


def test_problems_of_several_pages(tmp_path: Path):
    """Pages that cannot be laid out are all named; pages alike are told once, by the first."""
    text = (
        HEAD
        + SPLASH
        + '[[pages]]\ncount = 3\ntiers = [3]\ngutter = "4 in"\n'
        + '[[pages]]\npanels = "six-gird"\n'
        + '[[pages]]\npanels = 1\npanel.2.bleed = "all"\n'
    )
    said = refused(tmp_path, text).removeprefix("guidekit: ").splitlines()
    assert [line.partition(",")[0] for line in said] == [
        "issue.toml: pages[2] (page 2)",
        "issue.toml: pages[3] (page 5)",
        "issue.toml: pages[4] (page 6)",
    ]


def test_problems_as_data(tmp_path: Path):
    """The exception holds each problem with its four parts, for programs."""
    with pytest.raises(InputError) as caught:
        load_issue(issue_file(tmp_path, HEAD + 'format.border = "-1 mm"\n' + SPLASH))
    (problem,) = caught.value.problems
    assert (problem.where, problem.came, problem.allowed) == (
        "issue.toml: format: border",
        "got '-1 mm'",
        "a length of 0 or more",
    )


def test_a_folder_that_was_there_is_left(tmp_path: Path):
    """A wrong issue changes nothing in the folder of an earlier build."""
    path = issue_file(tmp_path, HEAD + SPLASH)
    assert run_here("build", path, "--out", tmp_path / "old", "--dpi", 30).code == 0
    before = contents(tmp_path / "old")
    path.write_text(HEAD + SPLASH + "[[pages]]\ntiers = []\n", "utf-8")
    assert run_here("build", path, "--out", tmp_path / "old", "--dpi", 30).code == 2
    assert contents(tmp_path / "old") == before
