"""The tabs that look at an issue: told what happens, and waited for."""

from __future__ import annotations

import asyncio
import contextlib
import json
from collections.abc import AsyncGenerator, Callable
from typing import Any

AFTER_LAST = 20.0  # seconds that the server stays when the last tab is closed; a reload takes one
FIRST = 600.0  # seconds that it waits for the first tab
BEAT = 5.0  # seconds between signs of life, by which a tab that is gone is noticed
MOST_WAITING = 1000  # events that a tab which hears nothing may have before it

Event = dict[str, Any]


class Tabs:
    """All tabs that are open, each with the events that it has not heard yet."""

    def __init__(self) -> None:
        self.open: set[asyncio.Queue[Event]] = set()

    def tell(self, event: Event) -> None:
        """Tell all tabs."""
        for queue in self.open:
            with contextlib.suppress(asyncio.QueueFull):
                queue.put_nowait(event)

    def telling(self) -> Callable[[Event], None]:
        """What tells all tabs from another thread; called in that of the server."""
        loop = asyncio.get_running_loop()

        def tell(event: Event) -> None:
            with contextlib.suppress(RuntimeError):  # the server has ended meanwhile
                loop.call_soon_threadsafe(self.tell, event)

        return tell

    async def events(self, now: Callable[[], Event]) -> AsyncGenerator[str]:
        """What one tab hears until it closes: server-sent events (HTML Living Standard, 9.2).

        The first is what holds `now`, asked for when nothing can be missed any more.
        """
        queue: asyncio.Queue[Event] = asyncio.Queue(MOST_WAITING)
        self.open.add(queue)
        try:
            yield _line(now())
            while True:
                try:
                    event = await asyncio.wait_for(queue.get(), BEAT)
                except TimeoutError:
                    yield ": still here\n\n"
                else:
                    yield _line(event)
        finally:
            self.open.discard(queue)

    async def until_left(self) -> None:
        """Return when no tab has been open for a while."""
        loop = asyncio.get_running_loop()
        since, patience = loop.time(), FIRST
        while self.open or loop.time() - since < patience:
            if self.open:
                since, patience = loop.time(), AFTER_LAST
            await asyncio.sleep(1)


def _line(event: Event) -> str:
    return f"data: {json.dumps(event)}\n\n"
