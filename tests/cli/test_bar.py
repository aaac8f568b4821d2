"""How far a command is, on a terminal."""

import os
import subprocess
import sys
from pathlib import Path

import pytest
from support.programs import shown
from support.samples import DPI, WIDER, issue_file

pty = pytest.importorskip("pty", reason="terminals are made so on POSIX only")


@pytest.mark.parametrize("command", ["build", "refresh"])
def test_bar_on_a_terminal(tmp_path: Path, command: str) -> None:
    """Commands that work on many pages show on a terminal how many are done."""
    ours, theirs = pty.openpty()
    arguments = [command, issue_file(tmp_path), "--out", tmp_path / "out", "--dpi", DPI]
    line = [sys.executable, "-m", "guidekit", *map(str, arguments)]
    if command == "refresh":
        subprocess.run([*line[:3], "build", *line[4:]], check=True, capture_output=True)
        issue_file(tmp_path, WIDER)
    done = subprocess.run(line, stdout=subprocess.PIPE, stderr=theirs, check=True)
    os.close(theirs)
    bar = shown(ours)
    assert b"pages" in bar
    assert b"100%" in bar
    assert b"%" not in done.stdout
