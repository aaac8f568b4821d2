"""Ctrl-C, a machine without memory or threads, closed streams: one sentence and no traceback.

What a stopped build leaves and says is in `tests/store/test_whole_files.py`.
"""

import os
import resource
import signal
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from support.programs import HANG, ordinary_signals
from support.samples import (
    DPI,
    NAMES,
    RECORD,
    command,
    contents,
    environment,
    issue_file,
    run_here,
    run_process,
)
from support.stopping import while_loading

from guidekit.cli.stopping import Stopped, stoppable
from guidekit.stops import Unbroken

BUILD = ["build", "issue.toml", "--out", "out", "--dpi", str(DPI)]


def limited(folder: Path, **limits: int) -> subprocess.CompletedProcess[str]:
    """A build in a process with limits on what it gets of the system, in bytes."""
    issue_file(folder)

    def limit() -> None:
        for name, value in limits.items():
            resource.setrlimit(getattr(resource, f"RLIMIT_{name}"), (value, value))

    return subprocess.run(
        [sys.executable, "-m", "guidekit", *BUILD],
        cwd=folder,
        env=environment(),
        capture_output=True,
        text=True,
        preexec_fn=limit,
        timeout=HANG,
    )


@pytest.mark.parametrize("module", ["guidekit.errors", "typer", "pydantic_core", "numpy"])
def test_stopped_while_it_starts(tmp_path: Path, module: str) -> None:
    """Ctrl-C while the program is still being loaded ends it without a word."""
    issue_file(tmp_path)
    done = subprocess.run(
        command(*BUILD),
        cwd=tmp_path,
        env=while_loading(module, signal.SIGINT, tmp_path / "site"),
        capture_output=True,
        preexec_fn=ordinary_signals,
        timeout=HANG,
    )
    assert (done.returncode, done.stdout, done.stderr) == (-signal.SIGINT, b"", b"")
    assert not (tmp_path / "out").exists()


SWALLOWED = """
import signal, time
from guidekit.cli.stopping import stoppable
class Cleared:
    def __del__(self):
        signal.raise_signal(signal.SIGINT)
with stoppable():
    held = Cleared()
    del held
    time.sleep(9999)
"""


def test_stopped_where_nothing_can_be_raised() -> None:
    """A request to stop that comes while Python clears something away is not lost."""
    done = subprocess.run(
        [sys.executable, "-c", SWALLOWED],
        env=environment(),
        capture_output=True,
        timeout=HANG,
        preexec_fn=ordinary_signals,
    )
    assert (done.returncode, done.stderr) == (-signal.SIGINT, b"")


def test_what_is_not_broken(interruptible: None) -> None:
    """A first request waits for the end of what is to be whole, and a second one would not."""
    done: list[object] = []

    def work() -> None:
        with stoppable(), Unbroken():
            signal.raise_signal(signal.SIGINT)
            done.append(signal.getsignal(signal.SIGINT))

    with pytest.raises(Stopped):
        work()
    assert done == [signal.SIG_DFL]


def test_what_may_be_broken(interruptible: None) -> None:
    """A request that has waited comes where it may; one more does not come while that unwinds."""
    steps: list[str] = []

    def work() -> None:
        with Unbroken() as stops:
            with stops.breakable():
                steps.append("begun")
            signal.raise_signal(signal.SIGINT)
            steps.append("whole")
            try:
                with stops.breakable():
                    steps.append("not done any more")
            finally:
                signal.raise_signal(signal.SIGINT)
                steps.append("cleared away")

    with pytest.raises(KeyboardInterrupt):
        work()
    assert steps == ["begun", "whole", "cleared away"]
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def test_ignored_signals_stay_ignored() -> None:
    """What whoever started us wants ignored, as nohup does, is ignored."""
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN)
    try:
        with stoppable():
            signal.raise_signal(signal.SIGHUP)
    finally:
        signal.signal(signal.SIGHUP, before)


def test_no_memory(tmp_path: Path) -> None:
    """Without memory, wherever it ends, there is a sentence, and the folder holds whole files."""
    for megabytes in (70, 150):
        done = limited(tmp_path, AS=megabytes << 20)
        if done.returncode:
            assert done.returncode in (1, 2)
            assert done.stderr.startswith("guidekit: ")
            assert "Traceback" not in done.stderr
    if (tmp_path / "out").exists():
        assert set(contents(tmp_path / "out")) <= {RECORD, *NAMES}


#: What Python 3.11 makes of it where memory ends while a class of `enum` is made.
OF_ENUM = TypeError("_value_ not set in __new__, unable to create it")
OF_ENUM.__cause__ = MemoryError()


@pytest.mark.parametrize(
    "error", [MemoryError(), SystemError("error return without exception set"), OF_ENUM]
)
def test_no_memory_in_the_middle(
    error: Exception, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """When memory ends in the middle of a build, it is told which canvases are done."""
    from guidekit.writers.psd.writer import PsdWriter

    real, calls = PsdWriter.write, iter(range(9))

    def write(self: Any, stack: Any) -> Any:
        if next(calls) == 3:
            raise error
        return real(self, stack)

    monkeypatch.setattr(PsdWriter, "write", write)
    run = run_here("build", issue_file(tmp_path), "--out", tmp_path / "out", "--dpi", DPI)
    assert run == (
        1,
        "",
        "guidekit: no memory is left for this. End some other programs and run again.\n"
        "Done: 3 of 4 canvases, all whole. Not done: salt-road-02-p004.\n",
    )


def test_no_thread(tmp_path: Path) -> None:
    """Where the system gives no thread, a sentence says so, and nothing is left in the folder."""
    done = limited(tmp_path, STACK=1 << 33, AS=2 << 30)  # no room for the stack of a thread
    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr == (
        "guidekit: starting a thread: the system allows no more of them. "
        "Nothing half-written was left; end some other programs and run again.\n"
        "Done: 0 of 4 canvases. Not done: salt-road-02-p001 and 3 more.\n"
    )
    assert contents(tmp_path / "out") == {}


def test_half_an_installation(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A library that cannot be loaded is named."""
    monkeypatch.setitem(sys.modules, "guidekit.build", None)
    run = run_here("build", issue_file(tmp_path))
    assert (run.code, run.out) == (1, "")
    assert run.err.startswith("guidekit: a library cannot be loaded: ")
    assert "guidekit.build" in run.err


@pytest.mark.parametrize(
    ("closed", "issue", "code"),
    [("2>&-", "issue.toml", 0), ("2>&-", "none.toml", 2), ("<&- >&- 2>&-", "issue.toml", 0)],
)
def test_closed_streams(tmp_path: Path, closed: str, issue: str, code: int) -> None:
    """With standard streams closed a build does its work, and no file takes their place."""
    issue_file(tmp_path)
    words = " ".join([sys.executable, "-m", "guidekit", *BUILD]).replace("issue.toml", issue)
    done = subprocess.run(
        f"{words} {closed}", shell=True, cwd=tmp_path, env=environment(), capture_output=True
    )
    assert (done.returncode, done.stderr) == (code, b"")
    if not code:
        assert set(NAMES) < set(contents(tmp_path / "out"))


NO_TEXT = os.fsdecode(b"a\xff")


@pytest.mark.parametrize(
    "arguments",
    [
        ["build", "issue.toml", "--out", NO_TEXT, "--dpi", "20", "--json"],
        ["build", "issue.toml", "--layers", NO_TEXT],
        ["build", "issue.toml", "--format", NO_TEXT],
        ["new", f"{NO_TEXT}/harbour"],
        ["new", NO_TEXT],
        ["new", "harbour", "--preset", f"{NO_TEXT}.toml"],
        ["layouts", "show", "six-grid", "--png", f"{NO_TEXT}.png"],
        ["presets", "show", NO_TEXT],
    ],
    ids=ascii,
)
def test_arguments_that_are_no_text(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, arguments: list[str]
) -> None:
    """Arguments of bytes that are no text in the system's encoding end in files or a sentence."""
    monkeypatch.chdir(tmp_path)
    issue_file(tmp_path)
    (tmp_path / f"{NO_TEXT}.toml").write_text('based_on = "us-comic"\n')
    run = run_here(*arguments)
    assert run.code in (0, 2)
    assert bool(run.err) == (run.code == 2)


def test_terminal_of_few_letters(tmp_path: Path) -> None:
    """A folder whose name is no text is told on a terminal that knows ASCII alone."""
    issue_file(tmp_path)
    few = {"LC_ALL": "C", "PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}
    run = run_process([*BUILD[:3], b"a\xff", *BUILD[4:]], tmp_path, **few)
    assert (run.code, run.err) == (0, "")
    assert ": 4 written.\n" in run.out


@pytest.mark.parametrize("command", ["build", "check", "dummy", "measure", "status"])
def test_a_name_that_the_system_does_not_take(command: str) -> None:
    """What the system will not even look for is named, and nobody hears of output."""
    run = run_here(command, "x" * 300)
    assert (run.code, run.out) == (1, "")
    assert run.err.startswith(f"guidekit: looking for {'x' * 300}: File name too long.")
