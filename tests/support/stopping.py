"""A command that sends itself a signal at a certain step: one from outside may come too late."""

from pathlib import Path
from signal import Signals

from support.plugin_files import path_with
from support.samples import environment

SITE = """
import itertools, os, sys

steps = itertools.count(1)

def heard(event, given):
    if event == {event!r} and str(given[{place}]).endswith({end!r}) and next(steps) == {step}:
        os.kill(os.getpid(), {number:d})

sys.addaudithook(heard)
"""


def while_loading(module: str, number: Signals, site: Path) -> dict[str, str]:
    """The environment of a process that gets a signal when it is about to load a module."""
    return _sending(site, event="import", place=0, end=module, step=1, number=number)


def at_page(step: int, number: Signals, site: Path) -> dict[str, str]:
    """The environment of a build that gets a signal before a new PSD, the `step`-th, gets its name.

    Two are written at once, so that the one before may have none yet.
    """
    return _sending(site, event="os.link", place=1, end=".psd", step=step, number=number)


def _sending(site: Path, **where: object) -> dict[str, str]:
    """What Python runs first is put in `site`; which audit events there are is in its manual."""
    site.mkdir()
    (site / "sitecustomize.py").write_text(SITE.format(**where), "utf-8")
    return environment(PYTHONPATH=path_with(site))
