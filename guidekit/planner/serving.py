"""The planner on a port of this machine, until it is left."""

from __future__ import annotations

import asyncio
import socket
from collections.abc import Callable
from pathlib import Path

import uvicorn

from guidekit.errors import MachineError
from guidekit.planner.guard import Guard
from guidekit.planner.server import Planner
from guidekit.studio.catalogue import Studio


def listening(port: int) -> socket.socket:
    """A socket of this machine alone; port 0 takes one that is free. Raises `MachineError`."""
    # asyncio sends at once, and does not wait 40 ms for more, where the protocol is named
    found = socket.socket(socket.AF_INET, socket.SOCK_STREAM, socket.IPPROTO_TCP)
    try:
        found.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        found.bind(("127.0.0.1", port))
    except OSError as error:
        found.close()
        raise MachineError.from_os(f"listening on port {port}", error) from None
    return found


def serve(
    path: Path,
    studio: Studio,
    port: int,
    opened: Callable[[str], None],
) -> None:
    """Serve one issue until all tabs are closed or the process is asked to stop.

    `studio` is what there is to name from it; `opened` is told the address as soon as it answers.
    Raises `InputError`, `MachineError`.
    """
    planner = Planner(path, studio)
    with listening(port) as here:
        guard = Guard(planner.app(), here.getsockname()[1])
        asyncio.run(_serve(planner, guard, here, opened))


async def _serve(
    planner: Planner, guard: Guard, here: socket.socket, opened: Callable[[str], None]
) -> None:
    config = uvicorn.Config(
        guard, log_level="critical", access_log=False, lifespan="off", ws="none", http="h11",
        loop="asyncio", timeout_graceful_shutdown=1, server_header=False, date_header=False,
    )  # fmt: skip
    server = uvicorn.Server(config)
    watching = asyncio.create_task(planner.watch())
    serving = asyncio.create_task(server.serve(sockets=[here]))
    while not server.started and not serving.done():
        await asyncio.sleep(0.005)
    opened(f"http://127.0.0.1:{guard.port}/?token={guard.token}")
    leaving = asyncio.create_task(planner.tabs.until_left())
    await asyncio.wait({serving, leaving}, return_when=asyncio.FIRST_COMPLETED)
    server.should_exit = True
    for task in (watching, leaving):
        task.cancel()
    await serving
