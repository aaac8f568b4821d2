"""The code of plug-ins, run when it is needed: the one place where strangers' code is called.

Whatever it raises becomes a problem that names the plug-in. Each import, each guide of a canvas and
each file of one gets `PATIENCE` seconds, after the first of which it is told who is at work.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from contextlib import chdir, redirect_stdout
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from threading import current_thread, main_thread
from typing import Any, TypeVar
from warnings import warn

from guidekit.errors import InputError, Problem, shown
from guidekit.patience import SOON, within
from guidekit.plugins.installed import BroughtPart, Plugin
from guidekit.wording import call

T = TypeVar("T")

PATIENCE = 30.0  # seconds for one thing that is asked of a plug-in
KINDS = {"presets": "presets", "layouts": "layouts", "guides": "guide", "writers": "format"}


def refused(plugin: Plugin, part: BroughtPart, came: str) -> InputError:
    """What is said of a part of a plug-in that is not as it should be."""
    without = call("studio", plugins=False)
    todo = f"Mend the plug-in or remove it; {without} works without any."
    return InputError(Problem((), f"{_called(plugin, part)} {came}", todo=todo))


def _called(plugin: Plugin, part: BroughtPart) -> str:
    return f"the {KINDS[part.kind]} {shown(part.name)} of the plug-in {plugin}"


def done_by(plugin: Plugin, part: BroughtPart, doing: str, work: Callable[[], T]) -> T:
    """What the code of a plug-in gives; what it raises is told as a problem of the plug-in.

    What it prints goes where messages go, and the folder in which we work stays the one it was.
    """

    def guarded() -> T:
        try:
            return work()
        except MemoryError:
            raise
        except BaseException as error:  # anything may come from code that nobody here has seen
            if _is_stop(error):
                raise
            raise _failed(_told(error)) from error

    def _failed(came: str) -> InputError:
        return refused(plugin, part, f"{doing}: {came}")

    def slow() -> None:
        seconds = f"more than {SOON:g} s, and is ended after {PATIENCE:g} s"
        warn(f"{_called(plugin, part)} takes {seconds}. Ctrl-C stops all.", stacklevel=2)

    try:
        with redirect_stdout(sys.stderr), chdir(Path.cwd()):
            return within(PATIENCE, guarded, slow)
    except TimeoutError as error:
        raise _failed(str(error)) from None


def _is_stop(error: BaseException) -> bool:
    """True for a request to stop, as the command line raises it, or Ctrl-C itself."""
    asks = isinstance(error, SystemExit) and type(error) is not SystemExit
    return asks or (isinstance(error, KeyboardInterrupt) and current_thread() is main_thread())


def _told(error: BaseException) -> str:
    if isinstance(error, (SystemExit, KeyboardInterrupt)):
        return "RuntimeError: it ends the program"
    try:
        text = str(error).strip()[:300]
    except Exception:  # strangers' code is in there as well
        text = ""
    return f"{type(error).__name__}{': ' if text else ''}{text}"


def loaded(plugin: Plugin, part: BroughtPart) -> Any:
    """What a part of a plug-in is; raises `InputError` if it cannot be loaded or takes too long."""

    def load() -> Any:
        module, _, name = part.place.partition(":")
        value: Any = import_module(module.strip())
        for step in filter(None, name.strip().split(".")):
            value = getattr(value, step)
        return value

    return done_by(plugin, part, "cannot be loaded", load)


def folder_of(plugin: Plugin, part: BroughtPart) -> Path:
    """The folder that a part of a plug-in names, found without running any of its code."""
    package, *parts = part.place.split(".")
    try:
        spec = find_spec(package)
    except (ImportError, ValueError):
        spec = None
    for place in (spec.submodule_search_locations if spec else None) or ():
        if (folder := Path(place, *parts)).is_dir():
            return folder
    raise refused(plugin, part, f"cannot be found: there is no folder {part.place}")
