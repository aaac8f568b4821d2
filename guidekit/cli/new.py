"""``guidekit new``: the text file of a new issue."""

from __future__ import annotations

from pathlib import Path
from shlex import quote
from typing import Annotated

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.complete import preset_names
from guidekit.cli.options import PageCount
from guidekit.cli.say import say


def new(
    folder: Annotated[Path, typer.Argument(help="A folder for the issue.", metavar="DIR")],
    preset: Annotated[
        str, typer.Option("--preset", help="The page format.", autocompletion=preset_names)
    ] = "us-comic",
    pages: PageCount = None,
    title: Annotated[
        str | None, typer.Option("--title", help="By default the folder's name.")
    ] = None,
    script: Annotated[
        Path | None,
        typer.Option("--from", help="A script: its pages and panels.", metavar="SCRIPT"),
    ] = None,
) -> None:
    """Start an issue: a small text file with every page in it, ready to be changed and built.

    Example: guidekit new glass-harbour --preset jis-b5 --pages 32
    """
    if script:
        _from_script(folder, script, preset, title, pages)
        return
    from guidekit.issue.start import new_issue

    with studio_of() as studio:
        known = studio.catalogue
        path, number = new_issue(folder, known, preset=preset, pages=pages, title=title)
    count = f"{number} page{'' if number == 1 else 's'}"
    say(f"{path}: {count} of {preset}. Next: guidekit build {quote(str(path))}")


def _from_script(
    folder: Path, script: Path, preset: str, title: str | None, pages: int | None
) -> None:
    from guidekit.errors import InputError, Problem
    from guidekit.script.start import issue_from_script

    if pages is not None:
        came = "the script says how many pages there are"
        raise InputError(Problem((), came, todo="Leave --pages out.", argument="pages"))
    with studio_of() as studio:
        path, found = issue_from_script(
            folder, script, preset=preset, title=title, catalogue=studio.catalogue
        )
    count = f"{found.pages} page{'' if found.pages == 1 else 's'}"
    say(f"{path}: {count} of {preset}. Next: guidekit overview {quote(str(path))}")
    for remark in found.remarks:
        say(f"{script.name}, {remark}")
