"""``guidekit build`` of one issue, and what each part takes of the processor; `start.py` runs this.

The parts are the calls of `guidekit.build` on the way of a page, timed from outside. What they need
is loaded before, in steps of its own.
"""

from __future__ import annotations

import gc
import json
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from guidekit.loading import load

PYTHON = "Python, with a few modules of its own"
LIBRARIES = "the five libraries"
LATER = "what else of libraries, most of it pydantic"
MODULES = "our modules"
READING = "reading and checking the issue"
PLANNING = "laying out, and looking for what will not do"
GUIDES = "guides and borders"
WRITING = "the PSD"
DISK = "hashing it, and writing it to the disk"
REST = "the command line, the folder and all else"
#: What each part loads, as the command does it: on a stack of its own.
LOADED = {
    LIBRARIES: ("typer", "pydantic", "numpy", "PIL.Image", "psd_tools.psd"),
    LATER: (
        "pydantic.main",
        "typer._adapters",
        "pydantic.plugin._loader",
        "pydantic.dataclasses",
        "filelock",
        "uharfbuzz",
        "PIL.ImageCms",
        "PIL.JpegImagePlugin",
        "platformdirs",
    ),
    MODULES: (
        "guidekit.cli.build",
        "guidekit.build",
        "guidekit.studio.catalogue",
        "guidekit.writers.psd.writer",
        "guidekit.layers.guides.kinds",
    ),
}
PARTS = (PYTHON, *LOADED, READING, PLANNING, GUIDES, WRITING, DISK, REST)

seconds = dict.fromkeys(PARTS, 0.0)


@contextmanager
def part(name: str) -> Iterator[None]:
    """The processor's seconds of what is done inside are added to a part."""
    begin = time.process_time()
    yield
    seconds[name] += time.process_time() - begin


def time_calls(owner: Any, function: str, name: str) -> None:
    """Every call of a function from now on belongs to a part."""
    plain: Callable[..., Any] = getattr(owner, function)

    def timed(*given: Any, **named: Any) -> Any:
        with part(name):
            done = plain(*given, **named)
            return [*done] if name == WRITING else done  # a writer makes one file after the other

    setattr(owner, function, timed)


def build_in_parts(issue: str, out: str, told: str) -> None:
    """Build, and write the seconds of the parts to a file."""
    seconds[PYTHON] = time.process_time()
    gc.set_threshold(200_000)  # as the command line does it
    for name, modules in LOADED.items():
        with part(name):
            for module in modules:
                load(module)
    from guidekit import build
    from guidekit.cli import main
    from guidekit.store.queue import Queue
    from guidekit.writers.psd.writer import PsdWriter

    time_calls(build, "load_issue", READING)
    time_calls(build, "plan_issue", PLANNING)
    time_calls(build, "preflight", PLANNING)
    time_calls(build, "standard_stack", GUIDES)
    time_calls(PsdWriter, "write", WRITING)
    time_calls(Queue, "settle", DISK)
    sys.argv[1:] = ["build", issue, "--out", out]
    try:
        main()
    finally:
        seconds[REST] = time.process_time() - sum(seconds.values())
        Path(told).write_text(json.dumps(seconds), "utf-8")


if __name__ == "__main__":
    build_in_parts(*sys.argv[1:])
