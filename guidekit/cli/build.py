"""``guidekit build``: the canvases of an issue."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from guidekit.cli.options import AsJson, Dpi, IssuePath, Pages, page_numbers
from guidekit.cli.say import print_json, say

if TYPE_CHECKING:
    from guidekit.build import BuildReport, Progress


def build(
    issue: IssuePath,
    out: Annotated[
        Path | None, typer.Option("--out", help="The folder; by default named after the issue.")
    ] = None,
    formats: Annotated[
        str, typer.Option("--format", help="Formats with commas; guidekit formats lists them.")
    ] = "psd",
    pages: Pages = None,
    dpi: Dpi = None,
    layers: Annotated[
        str | None,
        typer.Option("--layers", help='Only these groups and layers, as in "Guides,Inks".'),
    ] = None,
    as_json: AsJson = False,
) -> None:
    """Write the canvases of an issue, one layered file a page.

    Files that were drawn on are never overwritten.

    Example: guidekit build examples/salt-road.toml --out pages --format psd,png
    """
    from guidekit.build import build_issue

    wanted = page_numbers(pages)
    chosen = [name.strip() for name in layers.split(",")] if layers else []
    names = [name.strip() for name in formats.rstrip(",").split(",")]
    with _progress() as progress:
        report = build_issue(
            issue, out, formats=names, pages=wanted, dpi=dpi, layers=chosen, progress=progress
        )
    if as_json:
        print_json(
            {
                "folder": str(report.folder),
                "complete": report.complete,
                "cautions": report.cautions,
                "files": report.files,
            }
        )
    else:
        _tell(report)
    if not report.complete:
        raise typer.Exit(1)


def _tell(report: BuildReport) -> None:
    counts = [
        f"{len(report.named(what))} {what}"
        for what in ("written", "unchanged")
        if report.named(what)
    ]
    drawn, kept = report.named("drawn"), report.named("kept")
    if drawn:
        counts.append(f"{len(drawn)} drawn on and left alone")
    if counts:
        say(f"{report.folder}: {', '.join(counts)}.")
    for name in drawn:
        say(f"  drawn on: {name}")
    if report.named("written"):
        for caution in report.cautions:
            say(f"Caution: {caution}")
    if kept:
        say(
            "Kept, for they are drawn on or not guidekit's; the new canvases were not written:\n"
            + "\n".join(f"  {report.folder / name}" for name in kept)
            + "\nMove them away to get new ones, or build into another folder with --out.",
            err=True,
        )


@contextmanager
def _progress() -> Iterator[Progress]:
    """A bar on a terminal, nothing in a pipe."""
    if not sys.stderr.isatty():
        yield lambda done, total: None
        return
    from rich.console import Console
    from rich.progress import Progress as Bar

    with Bar(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("pages")
        yield lambda done, total: bar.update(task, completed=done, total=total)
