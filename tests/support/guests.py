"""Plug-ins of a test: a guide, a format, an issue that needs them, and what is said of it."""

from pathlib import Path

from support.plugin_files import path_with
from support.samples import (
    Run,
    issue_file,
    run_process,
)

ISSUE = 'title = "Cards"\npreset = "square"\n[[pages]]\npanels = "splash"\n'
WITH_GUIDE = ISSUE + 'guides = { guest = "shown" }\n'
GUIDE = """
import math, sys, time
from guidekit.plugins.contract import *
def draw(seen):
    {draw}
guest = Guide(145, "guest", "Guest", "off", (1, 2, 3), 100, draw)
"""
WRITER = """
from guidekit.plugins.contract import *
class Guest:
    name = "guest"
    def limits(self, dpi):
        return Limits(1_000_000)
    def write(self, stack):
        {write}
"""
DOT = "yield Rule(Box(9, 9, 20, 20))"
TEXT = 'yield Output(f"{stack.file_name}.txt", [b"x"])'


def run(site: Path, *arguments: object, **environ: str) -> Run:
    """The command line in a process that has what lies in `site` installed."""
    return run_process(arguments, site.parent, PYTHONPATH=path_with(site), **environ)


def refused(site: Path, text: str = WITH_GUIDE, formats: str = "svg") -> str:
    """What is said of an issue that needs what does not work: exit code 2, nothing written."""
    issue = issue_file(site.parent, text)
    done = run(site, "build", issue, "--out", site.parent / "out", "--format", formats)
    assert (done.code, done.out) == (2, ""), done
    assert "Traceback" not in done.err
    assert not (site.parent / "out").exists()
    return done.err
