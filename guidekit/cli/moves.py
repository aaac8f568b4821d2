"""``guidekit move``, ``insert`` and ``remove``: pages in another order, with all their files."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.options import AsJson, Dpi, IssuePath, page_range
from guidekit.cli.refresh import file_data, tell_files
from guidekit.cli.say import print_json, say
from guidekit.cli.status import Out
from guidekit.cli.stopping import stoppable
from guidekit.errors import InputError, Problem

if TYPE_CHECKING:
    from pathlib import Path

    from guidekit.drawn.moves import Move, Wish

PagesToMove = Annotated[str | None, typer.Argument(help="A page or pages, as in 6 or 6-8.")]
DryRun = Annotated[bool, typer.Option("--dry-run", help="Change nothing; say what would be done.")]
Undo = Annotated[bool, typer.Option("--undo", help="Take back what was moved last.")]


def move(
    issue: IssuePath,
    pages: PagesToMove = None,
    after: Annotated[
        int | None, typer.Option("--after", help="The page that they come after; 0 for the front.")
    ] = None,
    out: Out = None,
    dpi: Dpi = None,
    dry_run: DryRun = False,
    undo: Undo = False,
    as_json: AsJson = False,
) -> None:
    """Move pages to another place: in the issue's file, and all files of theirs, drawn on or not.

    Example: guidekit move examples/salt-road.toml 6 --after 9 --out pages --dry-run
    """
    from guidekit.drawn.moves import Wish

    if undo:
        _do(issue, None, out, dpi, dry_run, as_json)
        return
    if pages is None or after is None:
        came = (
            "it is not said which pages are moved" if pages is None else "it is not said where to"
        )
        allowed = "the pages, and --after with a page, as in 6 --after 9"
        raise InputError(Problem((), came, allowed))
    first, last = page_range(pages)
    _do(issue, Wish(first, last, after), out, dpi, dry_run, as_json)


def insert(
    issue: IssuePath,
    after: Annotated[int, typer.Option("--after", help="The page before; 0 for the front.")],
    count: Annotated[int, typer.Option("--count", min=1, max=999, help="So many pages.")] = 1,
    like: Annotated[
        int | None, typer.Option("--like", help="As this page is; else a splash.")
    ] = None,
    out: Out = None,
    dpi: Dpi = None,
    dry_run: DryRun = False,
    as_json: AsJson = False,
) -> None:
    """Put new pages in; the pages behind them, and all files of theirs, move on.

    Example: guidekit insert examples/salt-road.toml --after 12 --dry-run
    """
    from guidekit.drawn.moves import Wish

    _do(issue, Wish(after=after, new=count, like=like or 0), out, dpi, dry_run, as_json)


def remove(
    issue: IssuePath,
    pages: Annotated[str, typer.Argument(help="A page or pages, as in 6 or 6-8.")],
    out: Out = None,
    dpi: Dpi = None,
    dry_run: DryRun = False,
    as_json: AsJson = False,
) -> None:
    """Take pages out; their files go to the folder removed, and those behind them move up.

    Example: guidekit remove examples/salt-road.toml 6 --out pages --dry-run
    """
    from guidekit.drawn.moves import Wish

    _do(issue, Wish(*page_range(pages)), out, dpi, dry_run, as_json)


def _do(
    issue: Path, wish: Wish | None, out: Path | None, dpi: int | None, dry_run: bool, as_json: bool
) -> None:
    from guidekit.drawn.moves import move_pages, undo_move

    with stoppable(), studio_of(issue) as studio:
        known = studio.catalogue
        if wish is None:
            done = undo_move(issue, out, dpi=dpi, catalogue=known, dry_run=dry_run)
        else:
            done = move_pages(issue, out, wish, dpi=dpi, catalogue=known, dry_run=dry_run)
    if as_json:
        print_json(_data(done))
    else:
        _tell(done, dry_run)
    if not done.complete:
        raise typer.Exit(1)


def _data(done: Move) -> dict[str, Any]:
    files = [{"old": old, "new": new} for old, new in done.files]
    refreshed = [file_data(file) for file in done.refreshed.files] if done.refreshed else []
    return {
        "folder": str(done.folder),
        "complete": done.complete,
        "pages": done.told,
        "files": files,
        "refreshed": refreshed,
    }


def _tell(done: Move, dry_run: bool) -> None:
    count = len(done.files)
    would = "would be renamed" if dry_run else "renamed"
    say(f"{done.folder.resolve()}: {count} file{'' if count == 1 else 's'} {would}.")
    for line in done.told:
        say(f"  {line}")
    for old, new in done.files:
        say(f"  {old} → {new}")
    if done.refreshed:
        tell_files(done.refreshed)
