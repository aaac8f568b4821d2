"""The command line: each command does what its help says, in text and in JSON."""

import os
import pty
import shlex
import subprocess
import sys
from pathlib import Path

import pytest
from support.command_words import command_words
from support.examples import copied_examples
from support.programs import HANG, shown
from support.samples import (
    DPI,
    NAMES,
    command,
    contents,
    environment,
    issue_file,
    run_here,
    run_process,
)

import guidekit


def shown_example(words: tuple[str, ...]) -> str:
    """The line behind "Example:" in a command's help."""
    run = run_here(*words, "--help")
    assert (run.code, run.err) == (0, "")
    _, found, rest = run.out.partition("Example:")
    assert found, run.out
    return rest.strip().splitlines()[0]


def test_version() -> None:
    """--version tells the name and the version, and no more."""
    assert run_here("--version") == (0, f"guidekit {guidekit.__version__}\n", "")


def test_help_lists_every_command(tmp_path: Path) -> None:
    """The help of ``python -m guidekit`` names each command or its group."""
    run = run_process(["--help"], tmp_path)
    assert (run.code, run.err) == (0, "")
    names = {words[0] for words in command_words()}
    assert {"new", "build", "measure", "presets"} <= names
    for name in names:
        assert f"\n  {name} " in run.out


ENDLESS = [("plan",)]  # it serves until it is stopped, in `tests/planner`


@pytest.mark.parametrize("words", list(command_words()), ids=" ".join)
def test_example_in_the_help(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    """Each command's help shows an example of that command that works as printed."""
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.chdir(tmp_path)
    example = shlex.split(shown_example(words))
    assert tuple(example[: len(words) + 1]) == ("guidekit", *words)
    if words in ENDLESS:
        return
    copied_examples(tmp_path)
    run = run_here(*example[1:])
    assert (run.code, run.err) == (0, "")
    assert run.out.strip()


def test_quiet_in_a_pipe(tmp_path: Path) -> None:
    """Without a terminal there is no bar and no colour, even where colour is asked for."""
    issue_file(tmp_path)
    arguments = ["build", "issue.toml", "--out", "out", "--dpi", DPI]
    run = run_process(arguments, tmp_path, FORCE_COLOR="1", TERM="xterm-256color")
    assert (run.code, run.err) == (0, "")
    assert run.out.startswith(f"{tmp_path / 'out'}: 4 written.\n")
    assert "\x1b" not in run.out
    assert "\r" not in run.out


def test_bar_on_a_terminal(tmp_path: Path) -> None:
    """On a terminal a bar goes to standard error, and standard output stays the same."""
    issue_file(tmp_path)
    reader, writer = pty.openpty()
    arguments = ["build", "issue.toml", "--out", "out", "--dpi", DPI]
    process = subprocess.Popen(
        command(*arguments),
        cwd=tmp_path,
        env=environment(TERM="xterm"),
        stdout=subprocess.PIPE,
        stderr=writer,
    )
    out, _ = process.communicate(timeout=HANG)
    os.close(writer)
    bar = shown(reader)
    assert b"pages" in bar
    assert b"100%" in bar
    assert out.startswith(f"{tmp_path / 'out'}: 4 written.\n".encode())
    assert b"\x1b" not in out
    assert set(NAMES) < set(contents(tmp_path / "out"))


@pytest.mark.parametrize(
    ("typed", "found"),
    [("pre", ["presets"]), ("presets ch", ["check"]), ("build --dr", ["--dry-run"])],
)
def test_completion(tmp_path: Path, typed: str, found: list[str]) -> None:
    """A shell that asks for what a word may become gets commands and options."""
    start = "import sys; sys.argv = ['guidekit']; from guidekit.__main__ import main; main()"
    asked = {
        "_GUIDEKIT_COMPLETE": "complete_bash",
        "COMP_WORDS": f"guidekit {typed}",
        "COMP_CWORD": str(len(typed.split())),
    }
    done = subprocess.run(
        [sys.executable, "-c", start],
        cwd=tmp_path,
        env=environment(**asked),
        capture_output=True,
        text=True,
        timeout=HANG,
    )
    assert done.stdout.split() == found
