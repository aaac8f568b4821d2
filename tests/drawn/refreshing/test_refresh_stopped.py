"""A Ctrl-C at any moment of a refresh ends it: whole files, no thread, and the next run goes on."""

import subprocess
import sys
from pathlib import Path
from signal import SIGINT

import pytest
from support import stopped_lines
from support.long import in_ci
from support.painting import Page
from support.programs import HANG, ordinary_signals
from support.samples import (
    DPI,
    FOUR_PAGES,
    NAMES,
    Run,
    command,
    environment,
    events_of,
    issue_file,
    run_here,
)
from support.stopping import at_page

from guidekit import build_issue

DRAWN = NAMES[1:3]


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


@pytest.mark.parametrize("page", [1, 2])
def test_ctrl_c_on_the_command_line(tmp_path: Path, page: int) -> None:
    """It ends the process as it ends others, and every page that is done by then is told of."""
    out = tmp_path / "out"
    build_issue(issue_file(tmp_path), out, dpi=DPI, pages=[2, 3])
    for seed, name in enumerate(DRAWN):
        drawn = Page.open(out / name)
        drawn.paint(drawn.place("Inks"), seed)
        drawn.save(out / name)
    old = {name: (out / name).read_bytes() for name in DRAWN}
    wider = 'preset = "us-comic"\nformat.gutter = "0.3 in"'
    issue = issue_file(tmp_path, FOUR_PAGES.replace('preset = "us-comic"', wider))
    call = ["refresh", issue, "--out", out, "--dpi", DPI, "--json"]
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
