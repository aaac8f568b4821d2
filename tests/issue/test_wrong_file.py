"""Files that cannot be read as an issue or preset, and several problems at once."""

import errno
import tomllib
from pathlib import Path

import pytest
from support.samples import HEAD, SPLASH, Run, contents, issue_file, refused, run_here

from guidekit import InputError, load_issue
from guidekit.errors import MachineError, Problem
from guidekit.issue import issue_in

DEEP = "tables and lists are nested too deeply, more than 100 in each other"


def build(path: Path) -> Run:
    """A build that is to fail before there is a folder."""
    run = run_here("build", path, "--out", path.parent / "out")
    assert not (path.parent / "out").exists()
    return run


@pytest.mark.parametrize(
    ("text", "line"),
    [("title = \n", 1), ('title = "x"\n[[pages]\n', 2), ("a = 1\nb = 2\na = 3\n", 3)],
)
def test_broken_toml(tmp_path: Path, text: str, line: int) -> None:
    """Broken TOML is told with the line that Python's parser names, and with the text of it."""
    with pytest.raises(tomllib.TOMLDecodeError) as caught:
        tomllib.loads(text)
    assert f"line {line}," in str(caught.value)
    code, out, err = build(issue_file(tmp_path, text))
    assert (code, out) == (2, "")
    written = text.splitlines()[line - 1].strip()
    assert err.startswith(f"guidekit: issue.toml, line {line}: {written} ")


def test_a_file_of_a_folder_that_may_not_be_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the only issue of a folder is looked for, a file that may not be read is told."""
    (tmp_path / "one.toml").write_text("[[pages]]")

    def refused(path: Path, mode: str) -> None:
        raise PermissionError(errno.EACCES, "Permission denied", str(path))

    monkeypatch.setattr(Path, "open", refused)
    with pytest.raises(MachineError, match=r"reading .*one\.toml: Permission denied"):
        issue_in(tmp_path)


def test_folder_in_place_of_a_file(tmp_path: Path) -> None:
    """A folder stands for the issue in it; one that has none is told so."""
    (tmp_path / "book").mkdir()
    said = f"{tmp_path / 'book'}: there is no issue in this folder. Name the file of the issue."
    assert build(tmp_path / "book") == (2, "", f"guidekit: {said}\n")


@pytest.mark.parametrize("name", ["none.toml", "issue.toml/none.toml", ""])
def test_no_file(tmp_path: Path, name: str) -> None:
    """A path that leads nowhere, or below a file, is told to be missing."""
    path = issue_file(tmp_path).parent / (name or "a\nb")
    said = f"{path}: there is no such file. Check the name and the folder."
    assert build(path) == (2, "", f"guidekit: {said}\n")


@pytest.mark.parametrize(
    ("data", "line", "said"),
    [
        (b"title = '\xe9'", 1, "byte 9 is not UTF-8. Save the file as UTF-8."),
        (
            b"8BPS\0\1\0\0\0\0\0\0\0\3\0\0\xff",
            1,
            "byte 16 is not UTF-8. Save the file as UTF-8.",
        ),
        (
            b"#" * 4_000_001,
            0,
            "this file has more than 4,000,000 bytes, which no text file of ours has. "
            "Name the TOML file.",
        ),
        (b"a = " + b"[" * 9999, 0, f"{DEEP}. Nest less."),
    ],
    ids=["Latin 1", "picture", "large", "deep"],
)
def test_no_text_file(tmp_path: Path, data: bytes, line: int, said: str) -> None:
    """What is no text in UTF-8 of a sensible size is refused with its reason."""
    path = tmp_path / "issue.toml"
    path.write_bytes(data)
    place = f"issue.toml, line {line}" if line else path
    assert build(path) == (2, "", f"guidekit: {place}: {said}\n")


def test_byte_order_mark(tmp_path: Path) -> None:
    """A byte order mark, which some editors put first, and Windows line ends are no problem."""
    path = tmp_path / "issue.toml"
    path.write_bytes(("\ufeff" + HEAD + SPLASH).replace("\n", "\r\n").encode())
    assert load_issue(path).issue.title == "The Salt Road"


def test_empty_file(tmp_path: Path) -> None:
    """An empty file lacks three keys, and all three are named, with how to write each."""
    lines = [
        'title: this key is missing. Add title = "The Salt Road".',
        'preset: this key is missing. Add preset = "us-comic".',
        "pages: this key is missing. Add [[pages]], and below it tiers = [2, 3, 1].",
    ]
    told = "".join(f"issue.toml, {line}\n" for line in lines)
    assert refused(tmp_path, "") == f"guidekit: {told}"


def test_presets_in_a_circle(tmp_path: Path) -> None:
    """Presets that are based on each other in a circle are refused, and the circle is drawn."""
    for name, parent in (("a", "b"), ("b", "c"), ("c", "b")):
        (tmp_path / f"{name}.toml").write_text(f'based_on = "{parent}.toml"\n', "utf-8")
    assert refused(tmp_path, HEAD.replace("us-comic", "a.toml") + SPLASH) == (
        "guidekit: b.toml, line 1, based_on: the presets are based on each other in a circle "
        "(b.toml → c.toml → b.toml). Take out one based_on.\n"
    )


def test_several_problems(tmp_path: Path) -> None:
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
panel.A.bleed = "middle"
"""
    said = refused(tmp_path, text).removeprefix("guidekit: ").splitlines()
    assert [line.partition(": ")[0] for line in said] == [
        "issue.toml, title",
        "issue.toml, line 1, titel",
        "issue.toml, line 2, number",
        "issue.toml, line 8, pages[1].count",
        "issue.toml, line 12, pages[2].map",
        "issue.toml, line 13, pages[2].panel.A.bleed",
        "issue.toml, line 4, format.gutter",
        "issue.toml, line 5, format.border",
    ]


def test_problems_of_several_pages(tmp_path: Path) -> None:
    """Pages that cannot be laid out are all named; pages alike are told once, by the first."""
    text = (
        HEAD
        + SPLASH
        + '[[pages]]\ncount = 3\ntiers = [3]\ngutter = "4 in"\n'
        + '[[pages]]\npanels = "six-gird"\n'
        + '[[pages]]\npanels = 1\npanel.2.bleed = "all"\n'
    )
    said = refused(tmp_path, text).removeprefix("guidekit: ").splitlines()
    assert [line.partition(": ")[0] for line in said] == [
        "issue.toml, line 8, page 2, pages[2].tiers[1]",
        "issue.toml, line 11, page 5, pages[3].panels",
        "issue.toml, line 14, page 6, pages[4].panel.2",
    ]


def test_problems_as_data(tmp_path: Path) -> None:
    """The exception holds each problem with its parts, for programs."""
    path = issue_file(tmp_path, HEAD + 'format.border = "-1 mm"\n' + SPLASH)
    with pytest.raises(InputError) as caught:
        load_issue(path)
    assert caught.value.problems == (
        Problem(
            key=("format", "border"),
            came='"-1 mm" is less than nothing',
            allowed="a length of 0 or more",
            todo="",
            file=path,
            line=4,
            pages=(),
            argument="",
        ),
    )


@pytest.mark.parametrize("dpi", [0, 10_001])
def test_an_argument(tmp_path: Path, dpi: int) -> None:
    """What was given to the function and not in a file is told by the name of the parameter."""
    with pytest.raises(InputError) as caught:
        load_issue(issue_file(tmp_path, HEAD + SPLASH), dpi=dpi)
    (problem,) = caught.value.problems
    assert (problem.argument, problem.key, problem.file, problem.line) == ("dpi", (), None, None)
    assert str(problem).startswith(f"dpi: {dpi} is too ")


def test_a_folder_that_was_there_is_left(tmp_path: Path) -> None:
    """A wrong issue changes nothing in the folder of an earlier build."""
    path = issue_file(tmp_path, HEAD + SPLASH)
    assert run_here("build", path, "--out", tmp_path / "old", "--dpi", 30).code == 0
    before = contents(tmp_path / "old")
    path.write_text(HEAD + SPLASH + "[[pages]]\ntiers = []\n", "utf-8")
    assert run_here("build", path, "--out", tmp_path / "old", "--dpi", 30).code == 2
    assert contents(tmp_path / "old") == before
