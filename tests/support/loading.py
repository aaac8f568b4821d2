"""What a process that runs some Python has loaded, and what it prints."""

import subprocess
import sys
from collections.abc import Sequence

from support.samples import REPOSITORY, environment


def printed(code: str) -> str:
    """What some code prints in a process of its own, at the top of the repository."""
    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=REPOSITORY,
        env=environment(),
        capture_output=True,
        text=True,
        check=True,
    )
    return done.stdout


def loaded(code: str, names: Sequence[str]) -> list[str]:
    """Which of these libraries are there when a process has run some code."""
    told = f"print(*[name for name in {names} if name in sys.modules], sep=',')"
    return [
        name for name in printed(f"import sys\n{code}\n{told}").splitlines()[-1].split(",") if name
    ]
