"""``guidekit overview``: the whole issue at a glance."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Annotated

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.options import IssuePath
from guidekit.cli.say import say


def overview(
    issue: IssuePath,
    out: Annotated[
        Path | None,
        typer.Option("--out", "-o", help="A new file that ends in .html, .png or .pdf."),
    ] = None,
    text: Annotated[bool, typer.Option("--text", help="Show it here, in characters.")] = False,
    paper: Annotated[str, typer.Option("--paper", help="Of a PDF: a4 or letter.")] = "a4",
    canvases: Annotated[
        Path | None,
        typer.Option("--canvases", help="The folder of a build; by default beside the issue."),
    ] = None,
) -> None:
    """Show every page of an issue small, as pages face each other in the book.

    Example: guidekit overview examples/salt-road.toml --out salt-road.html
    """
    from guidekit.overview.make import overview_bytes, overview_text
    from guidekit.overview.own import write_own

    with studio_of(issue) as studio:
        known = studio.catalogue
        if out:
            data = overview_bytes(issue, out.suffix, folder=canvases, paper=paper, catalogue=known)
            write_own(out, data)
            say(f"{out}: written.")
        if text or not out:
            width = shutil.get_terminal_size((100, 0)).columns
            say(overview_text(issue, width, folder=canvases, catalogue=known))
