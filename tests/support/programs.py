"""Programs that the tests compare with; none is needed to run guidekit."""

import contextlib
import os
import shutil
import signal
import subprocess
from pathlib import Path

from support.absent import absent

#: Seconds after which a process counts as hung. No test depends on speed: a machine may be busy.
HANG = 600


def ordinary_signals() -> None:
    """As in a terminal: the shell of a background job, or nohup, may have had some ignored."""
    for number in (signal.SIGINT, signal.SIGTERM, signal.SIGHUP):
        signal.signal(number, signal.SIG_DFL)


def shown(terminal: int) -> bytes:
    """All that was written to a terminal whose other end is closed, which may come in parts."""
    found: list[bytes] = []
    with contextlib.suppress(OSError):  # EIO: Linux's word for the end
        while part := os.read(terminal, 100_000):
            found.append(part)
    os.close(terminal)
    return b"".join(found)


def command(name: str) -> str:
    """The program's path; where it is not installed the test is skipped, but under ``CI`` it fails.

    The system's own programs come first: what a search path has before them may be a script that
    wraps the program and changes what comes out.
    """
    path = shutil.which(name, path="/usr/bin") or shutil.which(name)
    if path is None:
        absent(name)
    return path


def output(name: str, *arguments: str | Path) -> bytes:
    """What the program prints; raises `subprocess.CalledProcessError` where it is not content.

    One that hangs is ended with `subprocess.TimeoutExpired`.
    """
    call = [command(name), *map(str, arguments)]
    return subprocess.run(call, capture_output=True, check=True, timeout=HANG).stdout


def ag_psd(*arguments: str | Path) -> bytes:
    """What round_trip.js prints; it reads with ag-psd."""
    node_package("ag-psd")
    return output("node", Path(__file__).with_name("round_trip.js"), *arguments)


def node_package(name: str) -> Path:
    """The main file of a package that Node finds through NODE_PATH.

    Where it is not installed the test is skipped, but under ``CI`` it fails.
    """
    try:
        found = output("node", "-p", f"require.resolve('{name}')")
    except subprocess.CalledProcessError as error:
        absent(name, error)
    return Path(found.decode().strip())
