"""A Ctrl-C at any moment of a refresh ends it: whole files, no thread, and the next run goes on."""

import subprocess
import sys
from pathlib import Path
from signal import SIGINT
from threading import Event
from typing import BinaryIO

import pytest
from support import stopped_lines
from support.drawn_psd import TWO_DRAWN as DRAWN
from support.drawn_psd import two_drawn
from support.long import in_ci
from support.programs import HANG, ordinary_signals
from support.samples import (
    DPI,
    Run,
    command,
    environment,
    events_of,
    run_here,
)
from support.stopping import at_page

from guidekit.drawn.psd.merged import Merged
from guidekit.drawn.refreshing.new_file import NewFile
from guidekit.drawn.refreshing.refresh import refresh_issue
from guidekit.drawn.spans import copying
from guidekit.drawn.spans.source import ByteSpan, Source


@pytest.fixture
def out(tmp_path: Path) -> Path:
    """The folder of a build of which two pages are drawn on, and whose gutters are wider now."""
    return two_drawn(tmp_path)


def test_ctrl_c_at_each_line(tmp_path: Path) -> None:
    """At whichever line of handing two files over, also of the library's, it does all of that.

    In a process of its own, which ends by itself should it stand still, and says where.
    """
    done = subprocess.run(
        [sys.executable, stopped_lines.__file__, tmp_path, str(in_ci(3, first=9)), str(HANG)],
        env=environment(),
        capture_output=True,
        text=True,
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert int(done.stdout) > in_ci(200, first=60)


def test_ctrl_c_while_it_is_copied(out: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """What is not wanted any more is copied no further than the piece that is at hand."""
    real, copied, begun, given_up = copying._copy, list[ByteSpan](), Event(), Event()

    def copy(old: Source, span: ByteSpan, file: BinaryIO) -> None:
        copied.append(span)
        begun.set()
        assert given_up.wait(HANG)
        real(old, span, file)

    def make(_: Merged) -> None:
        assert begun.wait(HANG)
        raise KeyboardInterrupt

    def give_up(new: NewFile) -> None:
        put(new)
        given_up.set()

    put = NewFile.give_up
    monkeypatch.setattr(copying, "_copy", copy)
    monkeypatch.setattr(Merged, "make", make)
    monkeypatch.setattr(NewFile, "give_up", give_up)
    with pytest.raises(KeyboardInterrupt):
        refresh_issue(out.parent / "issue.toml", out, dpi=DPI)
    assert len(copied) == 1
    assert not [*out.rglob("*.part")]


@pytest.mark.parametrize("page", [1, 2])
def test_ctrl_c_on_the_command_line(tmp_path: Path, out: Path, page: int) -> None:
    """It ends the process as it ends others, and every page that is done by then is told of."""
    old = {name: (out / name).read_bytes() for name in DRAWN}
    call = ["refresh", tmp_path / "issue.toml", "--out", out, "--dpi", DPI, "--json"]
    process = subprocess.run(
        command(*call),
        env=at_page(page, SIGINT, tmp_path / "site"),
        capture_output=True,
        preexec_fn=ordinary_signals,
        timeout=HANG,
        text=True,
    )
    assert (process.returncode, process.stderr) == (-SIGINT, "")
    told = events_of(Run(128 + SIGINT, process.stdout, ""), "refresh")
    there = {name: (out / name).read_bytes() for name in DRAWN}
    done = [name for name in DRAWN if there[name] != old[name]]
    assert [(file["name"], file["outcome"]) for file in told] == [(x, "refreshed") for x in done]
    assert len(done) >= page
    assert not [*out.rglob("*.part")]
    assert run_here(*call).code == 0
    kept = {name: out / "before" / name.replace(".psd", ".1.psd") for name in DRAWN}
    assert {name: path.read_bytes() for name, path in kept.items()} == old
    assert all((out / name).read_bytes() == there[name] for name in done)
