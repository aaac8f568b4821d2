"""``guidekit refresh``: today's guides in pages that are drawn on."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from guidekit.cli.around import say_warning, studio_of
from guidekit.cli.bar import progress_bar
from guidekit.cli.events import RefreshEvents, tell_warning
from guidekit.cli.options import AsJson, Dpi, IssuePath, Pages, page_numbers
from guidekit.cli.say import say
from guidekit.cli.status import Out, few, hints
from guidekit.cli.stopping import stoppable
from guidekit.errors import InputError, Problem, pages_called
from guidekit.loading import load

if TYPE_CHECKING:
    from guidekit.drawn.refreshing.refresh_report import Refreshed, RefreshReport


def refresh(
    issue: IssuePath,
    out: Out = None,
    pages: Pages = None,
    dpi: Dpi = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Write nothing; say what would be done.")
    ] = False,
    undo: Annotated[
        bool, typer.Option("--undo", help="Put back the files that the last refresh replaced.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Put today's guides and borders into pages that are drawn on; no stroke is touched.

    The files as they were are kept in the folder before.

    Example: guidekit refresh examples/salt-road.toml --out pages --dry-run
    """
    load("guidekit.drawn.refreshing.refresh")
    from guidekit.drawn.refreshing.refresh import refresh_issue, undo_refresh
    from guidekit.drawn.standing.status import status_issue

    if undo and (pages is not None or dpi is not None or dry_run):
        came = "--undo puts back all that the last refresh replaced, as it was"
        raise InputError(Problem((), came, todo="Write it alone."))
    wanted = page_numbers(pages)
    elsewhere: list[str] = []  # where drawings may lie if none has the name of today
    hears, warn = RefreshEvents(str(issue), as_json), tell_warning if as_json else say_warning
    with stoppable(), studio_of(issue, warn) as studio, progress_bar(as_json) as progress:
        known = studio.catalogue
        if undo:
            report = undo_refresh(issue, out, catalogue=known)
            hears.all_done(report)
        else:
            report = refresh_issue(
                issue,
                out,
                pages=wanted,
                dpi=dpi,
                progress=progress,
                started=hears.started,
                file_done=hears.file_done,
                catalogue=known,
                dry_run=dry_run,
            )
        if not (undo or wanted) and all(file.outcome == "empty" for file in report.files):
            elsewhere = [*hints(status_issue(issue, out, dpi=dpi, catalogue=known))]
    if as_json:
        for hint in elsewhere:
            tell_warning(hint)
        hears.finished(report)
    else:
        _tell(report, "put back" if undo else "refresh", dry_run)
        for hint in elsewhere:
            say(f"  {hint}")
    if not report.complete:
        raise typer.Exit(1)


def _tell(report: RefreshReport, doing: str, dry_run: bool) -> None:
    counts = {
        "would be refreshed" if dry_run else "refreshed": report.named("refreshed"),
        "put back": report.named("put back"),
        "up to date": report.named("up to date"),
        "empty, which a build renews": report.named("empty"),
    }
    told = [f"{len(files)} {what}" for what, files in counts.items() if files]
    nothing = f"nothing to {doing}" if report.folder.is_dir() else "there is no such folder yet"
    say(f"{report.folder.resolve()}: {', '.join(told) or nothing}.")
    tell_files(report)


def tell_files(report: RefreshReport) -> None:
    """The files that were changed, those that have something to tell, and those refused.

    What is the same of several is told once.
    """
    alike: dict[tuple[str, ...], list[Refreshed]] = {}
    for file in report.files:
        if file.outcome in ("refreshed", "put back"):
            alike.setdefault(file.changed, []).append(file)
    for words, files in alike.items():
        changed = f": {', '.join(words)}" if words else ""
        before = few(file.kept for file in files if file.kept)
        say(f"  {few(file.name for file in files)}{changed}{before and f'; before: {before}'}")
    for file in report.files:
        for note in file.notes:
            say(f"  {file.name}: {note}")
    for file in report.named("refused"):
        say(f"guidekit: {_where(file)}: {file.why}", err=True)


def _where(file: Refreshed) -> str:
    return f"{file.name}, {pages_called(file.pages)}" if file.pages else file.name
