"""Programs that the tests compare with; none is needed to run guidekit."""

import os
import shutil
import subprocess
from pathlib import Path

import pytest


def command(name: str) -> str:
    """The program's path; where it is not installed the test is skipped, but under ``CI`` it fails.

    The system's own programs come first: what a search path has before them may be a script that
    wraps the program and changes what comes out.
    """
    path = shutil.which(name, path="/usr/bin") or shutil.which(name)
    if path is None:
        if os.environ.get("CI"):
            raise FileNotFoundError(f"{name} is not installed, and the tests need it here")
        pytest.skip(f"{name} is not here")
    return path


def output(name: str, *arguments: str | Path) -> bytes:
    """What the program prints; raises `subprocess.CalledProcessError` where it is not content."""
    done = subprocess.run([command(name), *map(str, arguments)], capture_output=True, check=True)
    return done.stdout
