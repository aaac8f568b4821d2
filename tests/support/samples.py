"""A small issue, and ways to run guidekit on it, for the tests of the whole path."""

import io
import json
import os
import subprocess
import sys
from collections.abc import Sequence
from contextlib import redirect_stderr, redirect_stdout
from hashlib import sha256
from pathlib import Path
from typing import Any, NamedTuple
from unittest.mock import patch

from guidekit.cli import main
from support.programs import HANG

REPOSITORY = Path(__file__).parents[2]
RECORD = ".guidekit.json"
JOURNAL = ".guidekit.journal"
HEAD = 'title = "The Salt Road"\nnumber = 2\npreset = "us-comic"\n'
SPLASH = '[[pages]]\npanels = "splash"\n'
PAIR = "[[pages]]\ncount = 2\ntiers = [2, 3, 1]\n"
LAST = '[[pages]]\ntiers = [1, 2]\ngutter = "0.25 in"\n'
FOUR_PAGES = HEAD + SPLASH + PAIR + LAST
WIDER = FOUR_PAGES.replace('preset = "us-comic"', 'preset = "us-comic"\nformat.gutter = "0.3 in"')
NAMES = tuple(f"salt-road-02-p00{page}.psd" for page in range(1, 5))
DPI = 30  # small and quick


class Run(NamedTuple):
    """What a run of the command line came to."""

    code: int
    out: str
    err: str


def issue_file(folder: Path, text: str = FOUR_PAGES, name: str = "issue.toml") -> Path:
    """An issue's file with this text."""
    folder.mkdir(parents=True, exist_ok=True)
    path = folder / name
    path.write_text(text, "utf-8")
    return path


def one_page(keys: str) -> str:
    """The text of an issue of one page with these keys."""
    return f"{HEAD}[[pages]]\n{keys}\n"


def run_here(*arguments: object) -> Run:
    """The command line in this process, which is quick; what it does not catch comes through."""
    out, err = io.StringIO(), io.StringIO()
    code: object = None
    with (
        patch.object(sys, "argv", ["guidekit", *map(str, arguments)]),
        redirect_stdout(out),
        redirect_stderr(err),
    ):
        try:
            main()
        except SystemExit as end:
            code = end.code
    assert isinstance(code, int), code
    return Run(code, out.getvalue(), err.getvalue())


def events_of(run: Run, event: str) -> list[dict[str, Any]]:
    """What lines of one kind say, of a run that prints one JSON object a line."""
    lines = [json.loads(line) for line in run.out.splitlines()]
    assert lines[-1]["event"] == "finished"
    assert lines[-1]["exit"] == run.code
    return [line for line in lines if line["event"] == event]


def boxes_of(run: Run) -> list[dict[str, Any]]:
    """The canvases that ``measure --json`` tells of."""
    return [line["measured"] for line in events_of(run, "page")]


def environment(**changes: str) -> dict[str, str]:
    """The environment of a process that can import this guidekit from any folder."""
    return {**os.environ, "PYTHONPATH": str(REPOSITORY), "PYTHONUTF8": "1", **changes}


def command(*arguments: object) -> list[str | bytes]:
    """``python -m guidekit`` with arguments."""
    given = [item if isinstance(item, bytes) else str(item) for item in arguments]
    return [sys.executable, "-m", "guidekit", *given]


def run_process(arguments: Sequence[object], cwd: Path, **environ: str) -> Run:
    """The command line in a process of its own."""
    done = subprocess.run(
        command(*arguments), cwd=cwd, env=environment(**environ), capture_output=True, timeout=HANG
    )
    return Run(done.returncode, done.stdout.decode(), done.stderr.decode())


def contents(folder: Path) -> dict[str, str]:
    """Every file below a folder by its name, with the SHA-256 of its bytes."""
    return {
        path.relative_to(folder).as_posix(): sha256(path.read_bytes()).hexdigest()
        for path in folder.rglob("*")
        if path.is_file()
    }


def refused(folder: Path, text: str) -> str:
    """What the command line says of a wrong issue: exit code 2, and nothing is written."""
    run = run_here("build", issue_file(folder, text), "--out", folder / "out")
    assert (run.code, run.out) == (2, ""), run
    assert not (folder / "out").exists(), "a folder was made"
    return run.err
