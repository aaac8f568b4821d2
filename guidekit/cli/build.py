"""``guidekit build``: the canvases of an issue."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from guidekit.cli.around import say_warning, studio_of
from guidekit.cli.bar import progress_bar
from guidekit.cli.complete import layer_names
from guidekit.cli.events import BuildEvents, tell_warning
from guidekit.cli.options import (
    AsJson,
    Dpi,
    Formats,
    IssuesPath,
    Pages,
    issue_given,
    names_in,
    page_numbers,
)
from guidekit.cli.say import say
from guidekit.cli.status import in_old_folders, summary
from guidekit.cli.stopping import stoppable
from guidekit.errors import InputError, Problem
from guidekit.loading import load

if TYPE_CHECKING:
    from guidekit.build import BuildReport
    from guidekit.shipped import FullCatalogue
    from guidekit.toml import TomlFile


def build(
    issue: IssuesPath,
    out: Annotated[
        Path | None,
        typer.Option("--out", "-o", help="The folder; by default beside the issue's file."),
    ] = None,
    formats: Formats = "psd",
    pages: Pages = None,
    dpi: Dpi = None,
    layers: Annotated[
        str | None,
        typer.Option(
            "--layers",
            help='Only these groups and layers, as in "Guides,Inks".',
            autocompletion=layer_names,
        ),
    ] = None,
    dry_run: Annotated[
        bool, typer.Option("--dry-run", help="Write nothing; say what would be written.")
    ] = False,
    take_over: Annotated[
        bool,
        typer.Option("--take-over", help="Replace undrawn canvases of another issue there."),
    ] = False,
    quiet: Annotated[
        bool, typer.Option("--quiet", "-q", help="Say only what was not done, and why.")
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Write the canvases of an issue, one layered file a page.

    Files that were drawn on are never overwritten.

    Example: guidekit build examples/salt-road.toml --out pages --format psd,png
    """
    load("guidekit.build")
    from guidekit.issue.several import apart, check_apart, for_each, issues_at

    wanted = page_numbers(pages)
    chosen = names_in(layers) if layers else []

    def build_one(issue: Path) -> bool:
        from guidekit.build import build_issue

        given, hears = issue_given(issue), BuildEvents(str(issue), as_json)
        warn, silent = tell_warning if as_json else say_warning, quiet or as_json
        with stoppable(), studio_of(given, warn) as studio, progress_bar(silent) as progress:
            studio.look_at_lock()
            known = studio.catalogue
            report = build_issue(
                given,
                out and out / apart(issue, issues, known),
                formats=names_in(formats),
                pages=wanted,
                dpi=dpi,
                layers=chosen,
                progress=progress,
                started=hears.started,
                page_done=hears.page_done,
                catalogue=known,
                dry_run=dry_run,
                take_over=take_over,
            )
        if as_json:
            hears.finished(report)
            return report.complete
        if not quiet:
            _tell(report, dry_run)
            if given is issue and not dry_run and not (wanted is None and _all_as_written(report)):
                _tell_where_you_stand(report, issue, wanted, dpi, known)
            if out is None:
                _tell_old_folders(given, report)
        _tell_kept(report)
        return report.complete

    issues = issues_at(issue)
    if issues[1:]:
        if as_json:
            came = "lines of JSON tell of one issue, and this is a series"
            raise InputError(Problem((), came, todo="Name one of its issues.", file=issue))
        names = for_each(issues, lambda one: _checked(one, issues, formats, dpi))
        if out:
            check_apart(names)
    if not all([build_one(one) for one in issues]):
        raise typer.Exit(1)


def _checked(issue: Path, issues: Sequence[Path], formats: str, dpi: int | None) -> str:
    """An issue of several is looked at before anything of any is written; what keeps it apart."""
    from guidekit.build import check_issue
    from guidekit.issue.several import apart

    with studio_of(issue, lambda warning: None) as studio:
        known = studio.catalogue
        check_issue(issue, formats=names_in(formats), dpi=dpi, catalogue=known)
        return apart(issue, issues, known)


def _tell(report: BuildReport, dry_run: bool) -> None:
    drawn = report.named("drawn")
    counts = {
        "would be written" if dry_run else "written": report.named("written"),
        "unchanged": report.named("unchanged"),
        "drawn on and left alone": drawn,
        "kept": (*report.named("kept"), *report.named("other dpi")),
    }
    told = [f"{len(names)} {what}" for what, names in counts.items() if names]
    if told:
        say(f"{report.folder.resolve()}: {', '.join(told)}.\n{_canvases(report, dry_run)}.")
    if dry_run:
        _list("would be written", report.named("written"))
    _list("drawn on", drawn)
    _list("left over, no page makes it any more", report.left_over)
    for caution in report.news:
        say(f"Caution: {caution}")


def _tell_old_folders(issue: Path | TomlFile, report: BuildReport) -> None:
    """Where pages are that may be drawn on since the issue, and so its folder, got another name."""
    from guidekit.issue import issue_in
    from guidekit.store.old_folders import old_folders

    all_new = len(report.named("written")) == len(report.files)
    if not all_new or not isinstance(issue, Path):
        return
    if folders := [*old_folders(issue_in(issue), report.folder)]:
        say(in_old_folders(folders))


def _all_as_written(report: BuildReport) -> bool:
    """True if the folder has nothing but files that are as this build wrote or found them."""
    known = {*report.named("written"), *report.named("unchanged")}
    there = {path.name for path in report.folder.iterdir() if not path.name.startswith(".")}
    return there == known == report.files.keys()


def _tell_where_you_stand(
    report: BuildReport,
    issue: Path,
    pages: Callable[[int], set[int]] | None,
    dpi: int | None,
    catalogue: FullCatalogue,
) -> None:
    """What `status` says, if that is more than that all is as written."""
    from guidekit.drawn.standing.status import status_issue

    known = {name: what not in ("drawn", "kept") for name, what in report.files.items()}
    status = status_issue(
        issue, report.folder, pages=pages, dpi=dpi, catalogue=catalogue, known=known
    )
    for line in summary(status):
        say(line)


def _canvases(report: BuildReport, dry_run: bool) -> str:
    """How many canvases, how large they are, and what their files take: ``24 canvases of …``.

    What files will take that are not made nobody knows, and those that are kept are none of them.
    """
    sizes = " and ".join(f"{width} × {height} px" for width, height in report.sizes[:3])
    more = " and others" if report.sizes[3:] else ""
    kept = {*report.named("kept"), *report.named("other dpi")}
    paths = (report.folder / name for name in report.files if name not in kept)
    size = 0 if dry_run else sum(path.stat().st_size for path in paths if path.is_file())
    count = f"{report.canvases} canvas{'' if report.canvases == 1 else 'es'}"
    taken = f", {size / 1e6:,.1f} MB" if size >= 1e5 else f", {size / 1e3:,.0f} kB" if size else ""
    return f"{count} of {sizes}{more}{taken}"


def _tell_kept(report: BuildReport) -> None:
    kept, other = report.named("kept"), report.named("other dpi")
    if kept:
        _list_kept(
            report,
            kept,
            "Kept, for they are drawn on or not guidekit's; the new canvases were not written:",
            "guidekit refresh gives drawings the guides of now. For new canvases move these away, "
            "or build into another folder with --out.",
        )
    if other:
        _list_kept(
            report,
            other,
            "Kept, for they are canvases of another resolution than --dpi asks for:",
            "Build into another folder with --out to have both.",
        )


def _list(what: str, names: Iterable[str]) -> None:
    for name in names:
        say(f"  {what}: {name}")


def _list_kept(report: BuildReport, names: Iterable[str], why: str, todo: str) -> None:
    paths = [f"  {report.folder / name}" for name in names]
    say("\n".join([why, *paths, todo]), err=True)
