"""``guidekit move``, ``insert`` and ``remove``: pages in another order, with all their files."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Annotated, Any

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.events import file_data
from guidekit.cli.options import AsJson, Dpi, IssuePath, page_numbers
from guidekit.cli.refresh import tell_files
from guidekit.cli.say import print_json, say
from guidekit.cli.status import Out
from guidekit.cli.stopping import stoppable
from guidekit.errors import InputError, Problem

if TYPE_CHECKING:
    from pathlib import Path

    from guidekit.drawn.moving.renaming import Move

PagesToMove = Annotated[str | None, typer.Argument(help="Pages, as in 6 or 2,6-8.")]
DryRun = Annotated[bool, typer.Option("--dry-run", help="Change nothing; say what would be done.")]
Undo = Annotated[
    bool, typer.Option("--undo", help="Take back what was moved last; again, what before that.")
]


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
    by_hand: Annotated[
        bool,
        typer.Option(
            "--by-hand",
            help="Let files follow what was moved, or renamed, in the issue's file.",
        ),
    ] = False,
    as_json: AsJson = False,
) -> None:
    """Move pages to another place: in the issue's file, and all files of theirs, drawn on or not.

    Example: guidekit move examples/salt-road.toml 6 --after 9 --out pages --dry-run
    """
    from guidekit.drawn.moving.moves import Moved, follow_pages, move_pages, undo_move

    if undo or by_hand:
        if undo == by_hand or pages is not None or after is not None:
            came = f"{'--undo' if undo else '--by-hand'} is for what was moved already"
            raise InputError(Problem((), came, todo="Write it without pages, and alone."))
        _do(undo_move if undo else follow_pages, issue, out, dpi, dry_run, as_json)
        return
    wanted = page_numbers(pages)
    if wanted is None or after is None:
        came = (
            "it is not said which pages are moved" if wanted is None else "it is not said where to"
        )
        allowed = "the pages, and --after with a page, as in 6 --after 9"
        raise InputError(Problem((), came, allowed))
    _do(partial(move_pages, wish=Moved(wanted, after)), issue, out, dpi, dry_run, as_json)


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
    from guidekit.drawn.moving.moves import PutIn, move_pages

    wish = PutIn(after, count, like)
    _do(partial(move_pages, wish=wish), issue, out, dpi, dry_run, as_json)


def remove(
    issue: IssuePath,
    pages: Annotated[str, typer.Argument(help="Pages, as in 6 or 2,6-8.")],
    out: Out = None,
    dpi: Dpi = None,
    dry_run: DryRun = False,
    as_json: AsJson = False,
) -> None:
    """Take pages out; their files go to the folder removed, and those behind them move up.

    Example: guidekit remove examples/salt-road.toml 6 --out pages --dry-run
    """
    from guidekit.drawn.moving.moves import TakenOut, move_pages

    wish = TakenOut(page_numbers(pages) or ())
    _do(partial(move_pages, wish=wish), issue, out, dpi, dry_run, as_json)


def _do(
    work: Callable[..., Move],
    issue: Path,
    out: Path | None,
    dpi: int | None,
    dry_run: bool,
    as_json: bool,
) -> None:
    with stoppable(), studio_of(issue) as studio:
        done = work(issue, out, dpi=dpi, catalogue=studio.catalogue, dry_run=dry_run)
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
    from guidekit.store.record import RECORD

    count = len(done.files)
    would = "would be renamed" if dry_run else "renamed"
    say(f"{done.folder.resolve()}: {count} file{'' if count == 1 else 's'} {would}.")
    for line in done.told:
        say(f"  {line}")
    for old, new in done.files:
        say(f"  {old} → {new}")
    if done.told and not done.files and not (done.folder / RECORD).exists():
        only = "" if dry_run else ", and only the issue's file has changed"
        back = "" if dry_run else "take that back with --undo, and "
        say(f"  No build was made there{only}.")
        say(f"  If the pages lie elsewhere, {back}name their folder with --out.")
    if done.refreshed:
        tell_files(done.refreshed)
