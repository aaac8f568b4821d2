"""The file of an issue watched from outside, also where its folder is taken away and comes back."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import aclosing, suppress
from pathlib import Path

BETWEEN = 1.0  # seconds after which the file is looked at where the system tells nothing of it


async def signs_of(path: Path) -> AsyncIterator[None]:
    """Something may have happened to a file: when the system says so, and every second in any case.

    The system follows a folder that is renamed; the one that comes in its place is watched anew.
    """
    from watchfiles import awatch  # loaded when the first picture is on its way

    folder = path.parent
    while True:
        with suppress(OSError):  # the folder is gone, or the system watches no more of them
            watched = _identity(folder)
            changes = awatch(
                folder,
                recursive=False,
                debounce=100,
                rust_timeout=round(BETWEEN * 1000),
                yield_on_timeout=True,
            )
            async with aclosing(changes):
                async for found in changes:
                    names = {Path(name) for _, name in found}
                    if not names or path in names or folder in names:
                        yield
                    if folder in names or _identity(folder) != watched:
                        break
        await asyncio.sleep(BETWEEN)
        yield


def _identity(folder: Path) -> tuple[int, int]:
    state = folder.stat()
    return state.st_dev, state.st_ino
