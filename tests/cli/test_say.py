"""What the command line says of files holds nothing that steers a terminal; errors as JSON."""

import io
import json
import sys
from contextlib import redirect_stdout
from pathlib import Path
from unicodedata import bidirectional, category

import pytest
from support.samples import HEAD, SPLASH, Run, events_of, issue_file, run_here

from guidekit.cli.say import harmless, say

#: Unicode Standard Annex 9, section 2: what embeds, overrides, isolates and marks directions.
ANNEX_9 = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
MARKS = "\u061c\u200e\u200f"
EVIL = "\x1b]0;owned\x07\u202e\x9b2J\u2066"
#: Joiners are part of words in many scripts, and of emoji.
WORDS = "塩 طريق می‌خواهم 👩‍🚀 é – ß\n"


def test_what_steers_a_terminal() -> None:
    """Every control character and mark of direction is written as JSON escapes it, and none else.

    Which characters these are Python's copy of the Unicode Character Database says.
    """
    every = map(chr, range(sys.maxunicode + 1))
    steering = [
        c
        for c in every
        if (category(c) in ("Cc", "Zl", "Zp") and c != "\n")
        or bidirectional(c) in ANNEX_9
        or c in MARKS
    ]
    assert len(steering) > 70
    for c in steering:
        assert harmless(c).isascii()
        assert json.loads(f'"{harmless(c)}"') == c
    assert harmless(WORDS) == WORDS


def evil_files(folder: Path) -> Path:
    """An issue and a preset whose every text holds what steers a terminal."""
    evil = json.dumps(EVIL)
    (folder / "house.toml").write_text(
        f'based_on = "us-comic"\ntitle = "House"\ncaution = {evil}\nabout = {evil}\n', "utf-8"
    )
    text = f'title = "x"\npreset = "house.toml"\n[[pages]]\npanels = "splash"\n# {EVIL[-1]}\n'
    return issue_file(folder, text)


COMMANDS = {
    "check": ["check", "issue.toml"],
    "check as JSON": ["check", "issue.toml", "--json"],
    "build": ["build", "issue.toml", "--dpi", "30"],
    "preset": ["presets", "show", "house.toml"],
    "preset as JSON": ["presets", "show", "house.toml", "--json"],
    "wrong title": ["check", "title.toml"],
    "wrong title as JSON": ["check", "title.toml", "--json"],
    "broken": ["check", "broken.toml"],
    "no such preset": ["check", "preset.toml"],
    "no such file": ["check", f"{EVIL}.toml"],
}


@pytest.mark.parametrize("arguments", COMMANDS.values(), ids=COMMANDS)
def test_files_never_steer(
    tmp_path: Path, arguments: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever a file holds, no command passes its control characters on, and JSON stays JSON."""
    monkeypatch.chdir(tmp_path)
    evil_files(tmp_path)
    issue_file(tmp_path, f"title = {json.dumps(EVIL)}\n", "title.toml")
    issue_file(tmp_path, "title = \u202e“x”\n", "broken.toml")
    issue_file(tmp_path, f'title = "x"\npreset = {json.dumps(EVIL)}\n{SPLASH}', "preset.toml")
    run = run_here(*arguments)
    assert run.out + run.err
    assert not [c for c in run.out + run.err if c != "\n" and category(c) in ("Cc", "Cf")]
    if "--json" in arguments:
        assert json.loads(run.out or run.err)


def said(folder: Path, text: str) -> Run:
    """What a check of an issue with this text says as JSON."""
    return run_here("check", issue_file(folder, text), "--json")


def test_errors_as_json(tmp_path: Path) -> None:
    """With --json each problem comes with its parts, on standard error, for there is no result."""
    run = said(tmp_path, HEAD + "[[pages]]\ntiers = [2, 0]\n")
    assert (run.code, run.out) == (2, "")
    assert json.loads(run.err) == {
        "problems": [
            {
                "file": str(tmp_path / "issue.toml"),
                "line": 5,
                "pages": [],
                "key": "pages[1].tiers[2]",
                "argument": "",
                "came": "0 is not a number of panels",
                "allowed": "1 to 1,000 panels, or the name of a layout in quotes",
                "todo": "",
                "told": "issue.toml, line 5, pages[1].tiers[2]: 0 is not a number of panels. "
                "Write 1 to 1,000 panels, or the name of a layout in quotes.",
            }
        ],
        "more": 0,
    }


def test_page_and_option_as_json(tmp_path: Path) -> None:
    """A problem of a page has its numbers; one of the command line has the option's name."""
    run = said(tmp_path, HEAD + SPLASH + '[[pages]]\nspread = true\ntiers = [9]\ngutter = "4 in"\n')
    (problem,) = json.loads(run.err)["problems"]
    assert (problem["pages"], problem["key"]) == ([2, 3], "pages[2].tiers[1]")
    run = run_here("measure", issue_file(tmp_path), "--json", "--pages", "9")
    (problem,) = events_of(run, "error")
    assert (problem["argument"], problem["file"], problem["line"]) == ("--pages", "", None)


def test_twenty_at_most(tmp_path: Path) -> None:
    """A message has twenty problems and says how many more there are, in text and as JSON."""
    text = HEAD + SPLASH + "".join(f"k{i} = 1\n" for i in range(3_000))
    run = said(tmp_path, text)
    told = json.loads(run.err)
    assert [problem["line"] for problem in told["problems"]] == [*range(6, 26)]
    assert told["more"] == 2_980
    run = run_here("check", tmp_path / "issue.toml")
    assert len(run.err.splitlines()) == 21
    assert run.err.endswith("\nAnd 2,980 more problems.\n")


def test_a_failure_as_json(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A failure of the machine is told as JSON too."""

    def refuse(*_: object) -> bytes:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "read_bytes", refuse)
    run = said(tmp_path, HEAD + SPLASH)
    assert (run.code, run.out) == (1, "")
    assert json.loads(run.err)["failure"].startswith(f"reading {tmp_path / 'issue.toml'}: ")


@pytest.mark.parametrize("width", [20, 40, 79])
def test_lines_as_wide_as_the_terminal(monkeypatch: pytest.MonkeyPatch, width: int) -> None:
    """On a terminal lines are broken between words at its width; elsewhere they stay as they are.

    What goes on is set in below what it belongs to, and a path is never broken.
    """
    path = "/home/somebody/comics/moth-lamp/moth-lamp-01"
    text = f"{path}: 59 written.\n  drawn on: a page with a long name and more words than fit"
    monkeypatch.setenv("COLUMNS", f"{width}")
    for terminal in (True, False):
        out = io.StringIO()
        monkeypatch.setattr(out, "isatty", lambda terminal=terminal: terminal)
        with redirect_stdout(out):
            say(text)
        said = out.getvalue()
        assert said.split() == text.split()
        if not terminal:
            assert said == f"{text}\n"
            continue
        lines = said.splitlines()
        assert all(len(line) <= width or line.strip().removesuffix(":") == path for line in lines)
        at = next(n for n, line in enumerate(lines) if "drawn" in line)
        assert all(line.startswith("    ") for line in lines[at + 1 :])
