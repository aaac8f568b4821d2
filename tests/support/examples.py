"""Copies of what comes along with guidekit, for commands to be typed beside them."""

import shutil
from pathlib import Path

from support.long import IN_CI
from support.samples import REPOSITORY


def copied_examples(folder: Path) -> None:
    """The presets and the examples; a user's run has the example issue in few pixels."""
    for name in ("presets", "examples"):
        shutil.copytree(REPOSITORY / name, folder / name)
    if not IN_CI:
        issue = folder / "examples" / "salt-road.toml"
        head, first, pages = issue.read_text("utf-8").partition("\n[[pages]]")
        issue.write_text(f"{head}\nformat.dpi = 100\n{first}{pages}", "utf-8")
