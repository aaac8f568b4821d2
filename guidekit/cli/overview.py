"""``guidekit overview``: the whole issue at a glance."""

from __future__ import annotations

import shutil
from pathlib import Path
from typing import Annotated

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.options import IssuesPath
from guidekit.cli.say import say


def overview(
    issue: IssuesPath,
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
    from guidekit.issue.several import apart, check_apart, for_each, issues_at
    from guidekit.overview.make import overview_bytes, overview_text
    from guidekit.overview.own import check_own, write_own

    def made(issue: Path) -> tuple[str, bytes, str]:
        with studio_of(issue) as studio:
            known = studio.catalogue
            own = apart(issue, issues, known)
            folder = canvases and canvases / own
            data = b""
            if out:
                data = overview_bytes(
                    issue, out.suffix, folder=folder, paper=paper, catalogue=known
                )
            if not text and out:
                return own, data, ""
            width = shutil.get_terminal_size((100, 0)).columns
            return own, data, overview_text(issue, width, folder=folder, catalogue=known)

    issues = issues_at(issue)
    found = for_each(issues, made)
    if out:
        check_apart([own for own, _, _ in found])
        check_own(*(_place(out, own) for own, _, _ in found))
    for one, (own, data, shown) in zip(issues, found, strict=True):
        if out:
            write_own(_place(out, own), data)
            say(f"{_place(out, own)}: written.")
        if shown:
            say(f"{one}:\n{shown}" if own else shown)


def _place(out: Path, own: str) -> Path:
    """Where the picture of one issue goes; `own` keeps it apart from those of others."""
    return out.with_stem(f"{out.stem}-{own}") if own else out
