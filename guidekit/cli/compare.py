"""``guidekit compare``: where a script and an issue have drifted apart."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.options import AsJson, IssuePath
from guidekit.cli.say import print_json, say


def compare(
    issue: IssuePath,
    script: Annotated[Path, typer.Argument(help="The script.", metavar="SCRIPT")],
    as_json: AsJson = False,
) -> None:
    """Tell where an issue and its script differ: pages, panels, spreads, words without room.

    Example: guidekit compare examples/salt-road.toml examples/glass-harbour.txt
    """
    from guidekit.script.drift import compare_issue

    with studio_of(issue) as studio:
        found = compare_issue(issue, script, catalogue=studio.catalogue)
    if as_json:
        rows = [{"line": remark.line, "told": remark.said} for remark in found]
        print_json({"issue": str(issue), "script": str(script), "differences": rows})
        return
    for remark in found:
        say(f"{script.name}, {remark}" if remark.line else f"{issue.name}: {remark}")
    if not found:
        say(f"{issue} and {script} agree in pages, panels and spreads.")
