"""Lines of JSON for scripts: what happens, as it happens, by a schema; an issue that is piped."""

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from support.long import shortened
from support.programs import HANG, ordinary_signals
from support.programs import command as program
from support.samples import (
    DPI,
    FOUR_PAGES,
    HEAD,
    NAMES,
    REPOSITORY,
    SPLASH,
    Run,
    command,
    contents,
    environment,
    events_of,
    issue_file,
    run_here,
)
from support.stopping import at_page

from guidekit.schema.events import EVENTS
from guidekit.schema.files import schema_of

SCRIPTS = REPOSITORY / "examples" / "scripts"


def runs(folder: Path) -> list[Run]:
    """Runs of which all kinds of lines come."""
    out = folder / "out"
    build = ("build", issue_file(folder), "--out", out, "--dpi", DPI, "--json")
    first = run_here(*build)
    (out / NAMES[1]).write_bytes(b"drawn")
    wrong = issue_file(folder, HEAD + SPLASH + "tears = 1\nnotes = 2\n", "wrong.toml")
    return [
        first,
        run_here(*build[:-2], 20, "--json"),
        run_here("measure", folder / "issue.toml", "--json"),
        run_here("build", wrong, "--json"),
        run_here("measure", folder / "none.toml", "--json"),
        run_here(*build, "--pages", "x"),
        run_here("refresh", *build[1:]),
        run_here("refresh", *build[1:], "--undo"),
        run_here("refresh", wrong, "--json"),
    ]


def test_every_line_is_of_the_schema(tmp_path: Path) -> None:
    """Each line of a build and of a measure, right or wrong, is told by the schema; all come."""
    schema = Draft202012Validator(schema_of("events"))
    seen = set()
    for run in runs(tmp_path):
        assert run.err == ""
        lines = [json.loads(line) for line in run.out.splitlines()]
        for line in lines:
            assert [error.message for error in schema.iter_errors(line)] == [], line
            seen.add(line["event"])
        assert [line["event"] for line in lines].count("finished") == 1
        assert (lines[-1]["event"], lines[-1]["exit"]) == ("finished", run.code)
    assert seen == {*EVENTS}
    assert not schema.is_valid({"event": "page"})
    assert not schema.is_valid({"event": "pages", "canvas": "x"})


def test_errors_have_their_places(tmp_path: Path) -> None:
    """Each problem is a line with its file, line and key; nothing is written."""
    run = run_here("build", issue_file(tmp_path, HEAD + SPLASH + "tears = 1\nnots = 2\n"), "--json")
    assert run.code == 2
    errors = events_of(run, "error")
    assert [(error["line"], error["key"]) for error in errors] == [
        (6, "pages[1].tears"),
        (7, "pages[1].nots"),
    ]
    assert errors[0]["file"] == str(tmp_path / "issue.toml")
    assert {*contents(tmp_path)} == {"issue.toml"}


def test_one_problem_more(tmp_path: Path) -> None:
    """After the first twenty problems a line says in so many words how many more there are."""
    text = HEAD + SPLASH + "".join(f"k{i} = 1\n" for i in range(21))
    errors = events_of(run_here("build", issue_file(tmp_path, text), "--json"), "error")
    assert len(errors) == 21
    assert errors[-1] == {"event": "error", "told": "And 1 more problem."}


def piped(text: str, cwd: Path, *arguments: object) -> Run:
    """The command line with an issue on standard input."""
    done = subprocess.run(
        command(*arguments), input=text.encode(), cwd=cwd, env=environment(), capture_output=True
    )
    return Run(done.returncode, done.stdout.decode(), done.stderr.decode())


def test_an_issue_on_standard_input(tmp_path: Path) -> None:
    """An issue that is piped is built as the same in a file, beside it and again."""
    options = ("--dpi", DPI, "--format", "png,svg")
    assert run_here("build", issue_file(tmp_path), "--out", tmp_path / "file", *options).code == 0
    for _ in range(2):
        run = piped(FOUR_PAGES, tmp_path, "build", "-", "--out", "piped", *options, "--json")
        assert (run.code, run.err) == (0, ""), run
    found = {
        folder: {n: x for n, x in contents(tmp_path / folder).items() if not n.startswith(".")}
        for folder in ("file", "piped")
    }
    assert found["piped"] == found["file"]
    wrong = piped(HEAD + SPLASH + "tears = 1\n", tmp_path, "check", "-")
    assert (wrong.code, wrong.out) == (2, "")
    assert wrong.err.startswith("guidekit: standard input, line 6, page 1, pages[1].tears: ") or (
        wrong.err.startswith("guidekit: standard input, line 6, pages[1].tears: ")
    )
    assert piped("", tmp_path, "measure", "-", "--json").code == 2


def test_the_python_example(tmp_path: Path) -> None:
    """The example for apps that run Python builds, tells how far it is, and what was kept."""
    issue = issue_file(tmp_path)
    call = [sys.executable, str(SCRIPTS / "build_pages.py"), str(issue), str(tmp_path / "out")]

    def run() -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            call, env=environment(), capture_output=True, encoding="utf-8", timeout=HANG
        )

    done = run()
    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines()[3] == f"4 of 4: {NAMES[3]}"
    (tmp_path / "out" / NAMES[0]).write_bytes(b"drawn")
    issue_file(tmp_path, FOUR_PAGES.replace('"splash"', '"six-grid"'))
    done = run()
    assert done.returncode == 1
    assert f"Kept, for it is drawn on: {NAMES[0]}" in done.stdout.splitlines()


@pytest.mark.parametrize("by", shortened(["file", "standard input"], ["standard input"]))
def test_the_javascript_example(tmp_path: Path, by: str) -> None:
    """The example for apps that run JavaScript tells the panels, and what is wrong."""
    issue = issue_file(tmp_path)
    given, text = (str(issue), None) if by == "file" else ("-", FOUR_PAGES)
    call = [program("node"), str(SCRIPTS / "page_boxes.js"), given]
    env = environment(GUIDEKIT=f"{sys.executable} -m guidekit", PATH=os.environ["PATH"])

    def run(page: str) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [*call, page], input=text, env=env, capture_output=True, encoding="utf-8", timeout=HANG
        )

    done = run("2")
    assert (done.returncode, done.stderr) == (0, "")
    assert len(done.stdout.splitlines()) == 6
    (boxes,) = [
        line["measured"]
        for line in events_of(run_here("measure", issue, "--pages", 2, "--json"), "page")
    ]
    assert (
        done.stdout.splitlines()[0] == f"panel 1: {' '.join(map(str, boxes['panels'][0]['box']))}"
    )
    wrong = run("9")
    assert (wrong.returncode, wrong.stdout) == (2, "")
    assert "page 9 is not in the issue" in wrong.stderr


def test_a_stop_is_told(tmp_path: Path) -> None:
    """A build that is stopped ends with a line that says so, and what was done until then."""
    issue_file(tmp_path, HEAD + f"{SPLASH}count = 20\n")
    done = subprocess.run(
        command("build", "issue.toml", "--out", "out", "--dpi", DPI, "--json"),
        cwd=tmp_path,
        env=at_page(6, signal.SIGINT, tmp_path / "site"),
        stdout=subprocess.PIPE,
        encoding="utf-8",
        preexec_fn=ordinary_signals,
        timeout=HANG,
    )
    *_, error, finished = map(json.loads, done.stdout.splitlines())
    assert error["told"].startswith("stopped. Run it again to go on. Done: ")
    assert (finished["event"], finished["exit"]) == ("finished", 128 + signal.SIGINT)
    assert done.returncode == -signal.SIGINT
