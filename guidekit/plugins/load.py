"""The code of plug-ins, run when it is needed: the one place where strangers' code is called.

Whatever it raises becomes a problem that names the plug-in. Its imports get `PATIENCE` seconds.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager, redirect_stdout
from importlib import import_module
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from guidekit.errors import GuidekitError, InputError, Problem, shown
from guidekit.patience import within
from guidekit.plugins.installed import Part, Plugin
from guidekit.wording import call

PATIENCE = 10.0  # seconds for the import of a module
KINDS = {"presets": "presets", "layouts": "layouts", "guides": "guide", "writers": "format"}


def refused(plugin: Plugin, part: Part, came: str) -> InputError:
    """What is said of a part of a plug-in that is not as it should be."""
    what = f"the {KINDS[part.kind]} {shown(part.name)} of the plug-in {plugin}"
    without = call("studio", plugins=False)
    todo = f"Mend the plug-in or remove it; {without} works without any."
    return InputError(Problem((), f"{what} {came}", todo=todo))


@contextmanager
def strangers(plugin: Plugin, part: Part, doing: str) -> Iterator[None]:
    """What the code inside raises as a problem of the plug-in, and what it prints as messages."""
    try:
        with redirect_stdout(sys.stderr):
            yield
    except (GuidekitError, MemoryError):
        raise
    except SystemExit as error:
        if type(error) is not SystemExit:  # a request to stop, as the command line raises it
            raise
        raise refused(plugin, part, f"{doing}: RuntimeError: it ends the program") from error
    except Exception as error:  # anything at all may come from code that nobody here has seen
        kind, text = type(error).__name__, str(error).strip()
        came = f"{doing}: {kind}{': ' if text else ''}{text[:300]}"
        raise refused(plugin, part, came) from error


def loaded(plugin: Plugin, part: Part) -> Any:
    """What a part of a plug-in is; raises `InputError` if it cannot be loaded or takes too long."""

    def load() -> Any:
        module, _, name = part.place.partition(":")
        value: Any = import_module(module.strip())
        for step in filter(None, name.strip().split(".")):
            value = getattr(value, step)
        return value

    with strangers(plugin, part, "cannot be loaded"):
        return within(PATIENCE, load)


def folder_of(plugin: Plugin, part: Part) -> Path:
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
