"""How far a command is that works on many pages."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager


@contextmanager
def progress_bar(quiet: bool) -> Iterator[Callable[[int, int], None]]:
    """What is told of canvases or files done and how many there are: a bar on a terminal.

    There is nothing in a pipe, and nothing where `quiet`.
    """
    if quiet or not sys.stderr.isatty():
        yield lambda done, total: None
        return
    from rich.console import Console
    from rich.progress import Progress as Bar

    # refreshed here and not by a thread, which a system short of them would not give
    with Bar(console=Console(stderr=True), transient=True, auto_refresh=False) as bar:
        task, shown = bar.add_task("pages"), 0.0

        def show(done: int, total: int) -> None:
            nonlocal shown
            bar.update(task, completed=done, total=total)
            if done == total or time.monotonic() - shown > 0.1:
                bar.refresh()
                shown = time.monotonic()

        yield show
