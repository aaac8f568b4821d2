"""Pages in another order, put in and taken out: the issue's file and all files of its pages."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from guidekit.drawn.moving.canvases import Canvases, canvases_after
from guidekit.drawn.moving.new_names import REMOVED
from guidekit.drawn.moving.page_texts import NewPage, PagesAlike, Piece, with_pages
from guidekit.drawn.moving.renaming import Move, Renaming
from guidekit.drawn.standing.known_again import to_follow
from guidekit.errors import InputError, Problem
from guidekit.geometry.plan import Pages, plan_issue
from guidekit.issue import LoadedIssue, PageEntry
from guidekit.shipped import FullCatalogue, shipped
from guidekit.store.files import state_of
from guidekit.store.renames import last_done

Order = list[tuple[Piece, PageEntry | None]]

FRONT = 0  # in place of the page after which others come


@dataclass(frozen=True)
class Moved:
    """Pages that are to come after a page, or to the `FRONT`, in the order that they have."""

    pages: Pages
    after: int


@dataclass(frozen=True)
class PutIn:
    """New pages after a page, or at the `FRONT`: so many as the page `like`, or `panels` of a name.

    Where there is a page that they are `like`, it has the panels.
    """

    after: int
    count: int = 1
    like: int | None = None
    panels: str = "splash"


@dataclass(frozen=True)
class TakenOut:
    """Pages that are to be in the issue no more."""

    pages: Pages


Wish = Moved | PutIn | TakenOut


def move_pages(
    path: str | Path,
    out: str | Path | None,
    wish: Wish,
    *,
    dpi: int | None = None,
    catalogue: FullCatalogue | None = None,
    dry_run: bool = False,
) -> Move:
    """Put pages in another place, put new ones in, or take some out.

    The issue's file keeps its comments. Files of the pages are renamed with it, all or none; those
    of pages that are taken out go to the folder `removed`. Drawings then get the guides of their
    new pages. With `dry_run` nothing happens. Raises `InputError`, `MachineError`.
    """
    work = Renaming(path, out, dpi, catalogue or shipped(), dry_run=dry_run)
    order = _order(work.issue, wish)
    new = work.issue_of(with_pages(work.issue.file, [piece for piece, _ in order]))
    plans = plan_issue(new)
    if work.gone_by_hand or work.under_other_name:
        what = "put in another order by hand" if work.gone_by_hand else "given another name"
        came = f"its pages were {what}, and their files have not followed"
        todo = f"Let them follow first: {to_follow(path, out)}."
        raise InputError(Problem((), came, todo=todo, file=work.issue.path))
    was = [entry.numbers if entry else None for _, entry in order]
    return work.done(new, plans, canvases_after(work.plans, plans, was))


def follow_pages(
    path: str | Path,
    out: str | Path | None = None,
    *,
    dpi: int | None = None,
    catalogue: FullCatalogue | None = None,
    dry_run: bool = False,
) -> Move:
    """Let files follow their pages, which got another order or name in the issue's file by hand.

    A page is known again by its panels and by its place in the order of all; the issue's file stays
    as it is. What a build has made since in their new places goes to the folder `removed`, if
    nobody drew on it. Raises `InputError`, `MachineError`.
    """
    work = Renaming(path, out, dpi, catalogue or shipped(), dry_run=dry_run)
    following = work.following()
    return work.done(work.issue, work.plans, following, stood=work.stood_by_hand)


def undo_move(
    path: str | Path,
    out: str | Path | None = None,
    *,
    dpi: int | None = None,
    catalogue: FullCatalogue | None = None,
    dry_run: bool = False,
) -> Move:
    """Bring back the order, the files and the issue's file of before the last move, and so on.

    Files of pages that it put in go to the folder `removed`, drawn on or not. Raises `InputError`
    if there is no move to take back or the issue was changed since, `MachineError`.
    """
    work = Renaming(path, out, dpi, catalogue or shipped(), dry_run=dry_run)
    issue, folder = work.issue, work.store.folder
    last = last_done(folder)
    if last is None or issue.path.read_bytes() != last.new_text.encode():
        came = "no pages were moved here"
        if last is not None:
            came = "the issue was changed since the move, and would lose that"
        raise InputError(Problem((), came, todo="Move the pages again.", file=issue.path))
    old = work.issue_of(last.old_text.encode())
    back = [(step.new, step.old) for step in last.steps if state_of(folder / step.new)]
    canvases: Canvases = {new: name for name, new in last.canvases.items() if new}
    if canvases:  # files that have come since then go along with their pages
        since = (plan for plan in work.plans if plan.file_name not in canvases)
        canvases |= {p.file_name: None if p.numbers else p.file_name for p in since}
        back = [names for names in back if names[0].startswith(f"{REMOVED}/")]
    return work.done(old, plan_issue(old), canvases, back, undo=True)


def _order(issue: LoadedIssue, wish: Wish) -> Order:
    """The pages as they shall be, each with what it is now; None for what is new."""
    named = () if isinstance(wish, PutIn) else wish.pages
    pages = {*(named(issue.pages) if callable(named) else named)}
    _refuse_no_pages(issue, "pages", *pages)
    if not isinstance(wish, TakenOut) and wish.after != FRONT:
        _refuse_no_pages(issue, "after", wish.after)
    taken: list[PageEntry] = []
    rest: list[PageEntry] = []
    for entry in issue.entries:
        (taken if pages.intersection(entry.numbers) else rest).append(entry)
    keeps = {entry.key: entry for entry in reversed([*rest, *taken])}
    of_taken, of_rest = (
        [(PagesAlike(_place(entry), first=keeps[entry.key] is entry), entry) for entry in some]
        for some in (taken, rest)
    )
    if isinstance(wish, TakenOut):
        if not rest:
            came, todo = "no page would be left", "Leave at least one."
            raise InputError(Problem((), came, todo=todo, argument="pages"))
        return [*of_rest]
    place = 0
    if wish.after != FRONT:
        places = [i for i, entry in enumerate(rest) if wish.after in entry.numbers]
        if not places:
            came = f"page {wish.after} is one of those that are moved"
            raise InputError(Problem((), came, todo="Name another one.", argument="after"))
        place = places[0] + 1
    come = _new(wish, issue) if isinstance(wish, PutIn) else of_taken
    return [*of_rest[:place], *come, *of_rest[place:]]


def _refuse_no_pages(issue: LoadedIssue, argument: str, *numbers: int) -> None:
    """Raise `InputError` for numbers that no page has."""
    missing = [number for number in sorted(numbers) if not 1 <= number <= issue.pages]
    if missing:
        allowed = f"pages from 1 to {issue.pages}"
        came = f"page {missing[0]} is not in the issue"
        raise InputError(Problem((), came, allowed, f"Take {allowed}.", argument=argument))


def _place(entry: PageEntry) -> int:
    """Which entry of the issue's file a page comes from."""
    place = entry.key[1]
    assert isinstance(place, int)
    return place


def _new(wish: PutIn, issue: LoadedIssue) -> Order:
    page: Piece = NewPage(wish.panels)
    if wish.like is not None:
        _refuse_no_pages(issue, "like", wish.like)
        page = PagesAlike(
            next(_place(entry) for entry in issue.entries if wish.like in entry.numbers)
        )
    return [(page, None)] * wish.count
