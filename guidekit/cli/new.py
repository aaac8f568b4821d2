"""``guidekit new``: the text file of a new issue."""

from __future__ import annotations

from pathlib import Path
from shlex import quote
from typing import Annotated

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.options import PageCount
from guidekit.cli.say import say


def new(
    folder: Annotated[Path, typer.Argument(help="A folder for the issue.", metavar="DIR")],
    preset: Annotated[str, typer.Option("--preset", help="The page format.")] = "us-comic",
    pages: PageCount = None,
    title: Annotated[
        str | None, typer.Option("--title", help="By default the folder's name.")
    ] = None,
) -> None:
    """Start an issue: a small text file with every page in it, ready to be changed and built.

    Example: guidekit new glass-harbour --preset jis-b5 --pages 32
    """
    from guidekit.issue.start import new_issue

    with studio_of() as studio:
        known = studio.catalogue
        path, number = new_issue(folder, known, preset=preset, pages=pages, title=title)
    count = f"{number} page{'' if number == 1 else 's'}"
    say(f"{path}: {count} of {preset}. Next: guidekit build {quote(str(path))}")
