"""Large libraries, loaded on a stack of their own: it takes the same time wherever it is asked for.

CPython keeps the frames of a thread in chunks of 16 KB, and one that is empty goes back to the
system at once. A loop of calls that happens to begin at the end of a chunk takes a new one for each
call. psd-tools makes hundreds of classes as it is loaded, and that took twice its time below the
frames of our command line: 15,000 chunks, 120 ms. In a new thread it does not matter who calls.
"""

from __future__ import annotations

import sys
from importlib import import_module
from types import ModuleType


def load(name: str) -> ModuleType:
    """The module of this name, loaded in a thread of its own if it is not there yet.

    Raises what loading it raises. Ctrl-C is heard when all of it is loaded.
    """
    if name in sys.modules:
        return import_module(name)
    from concurrent.futures import ThreadPoolExecutor

    with ThreadPoolExecutor(max_workers=1) as thread:
        try:
            loading = thread.submit(import_module, name)
        except RuntimeError:  # the system allows no more threads, and so it may take longer
            return import_module(name)
    return loading.result()
