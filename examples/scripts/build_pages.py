"""Builds an issue from inside a drawing app that runs Python, and says how far it is.

Run it as ``python build_pages.py ISSUE FOLDER``, or call `build` from the app's own script. Only
the standard library is needed here; guidekit runs as a process of its own.
"""

import json
import subprocess
import sys
from collections.abc import Callable

GUIDEKIT = [sys.executable, "-m", "guidekit"]  # or ["guidekit"], where that is found


def build(issue: str, folder: str, tell: Callable[[str], None] = print) -> bool:
    """Build an issue into a folder; True if every page is there. `tell` shows a line to people."""
    call = [*GUIDEKIT, "build", issue, "--out", folder, "--json"]
    complete = False
    with subprocess.Popen(call, stdout=subprocess.PIPE, encoding="utf-8") as process:
        for line in process.stdout or ():
            told = json.loads(line)
            if told["event"] == "page":
                tell(f"{told['done']} of {told['of']}: {', '.join(told['files'])}")
            elif told["event"] == "kept":
                tell(f"Kept, for it is drawn on: {told['file']}")
            elif told["event"] == "warning":
                tell(f"Caution: {told['text']}")
            elif told["event"] == "error":
                tell(told["told"])
            elif told["event"] == "finished":
                complete = told["complete"]
    return complete


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit("Run it as  python build_pages.py ISSUE FOLDER")
    sys.exit(0 if build(*sys.argv[1:]) else 1)
