"""Pages in another order, put in and taken out: the issue's file and all files of its pages."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path, PurePath

from guidekit.drawn.page_texts import PagesAlike, with_pages
from guidekit.drawn.refresh import RefreshReport, refresh_issue
from guidekit.errors import InputError, MachineError, Problem
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import plan_issue
from guidekit.issue import LoadedIssue, PageEntry
from guidekit.issue.load import loaded
from guidekit.measure import load_issue
from guidekit.shipped import FullCatalogue, shipped
from guidekit.store.files import state_of
from guidekit.store.folder import Permissions, Store
from guidekit.store.renames import LAST, read_renames
from guidekit.toml.file import toml_in

REMOVED = "removed"
BYTE_ORDER_MARK = "\ufeff"
BESIDE = ("-small", "-page")  # what file names of flat formats have behind that of the canvas


@dataclass(frozen=True)
class Move:
    """What is done, or would be: names of files before and after, seen from the folder.

    `told` are the pages whose numbers change, in words; `refreshed` what became of the drawings.
    """

    folder: Path
    files: tuple[tuple[str, str], ...]
    told: tuple[str, ...] = ()
    refreshed: RefreshReport | None = None

    @property
    def complete(self) -> bool:
        """True if all drawings that moved have the guides of their new pages."""
        return self.refreshed is None or self.refreshed.complete


@dataclass(frozen=True)
class Wish:
    """What is asked for: pages `first` to `last` to come after a page (0 for the front).

    Without `after` they are taken out; without `first`, `new` ones are put in there: so many alike
    as the page `like`, or panels in a named layout.
    """

    first: int = 0
    last: int = 0
    after: int | None = None
    new: int = 0
    like: int = 0
    panels: str = "splash"


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
    catalogue = catalogue or shipped()
    issue = load_issue(path, dpi=dpi, catalogue=catalogue)
    folder = issue.folder(out)
    order = _order(issue, wish)
    text = with_pages(issue.file, [piece for piece, _ in order])
    new = loaded(toml_in(issue.path, text), catalogue, dpi)
    return renamed(issue, new, [old for _, old in order], folder, catalogue, dpi, dry_run=dry_run)


def undo_move(
    path: str | Path,
    out: str | Path | None = None,
    *,
    dpi: int | None = None,
    catalogue: FullCatalogue | None = None,
    dry_run: bool = False,
) -> Move:
    """Bring back the order, the files and the issue's file of before the last move.

    Raises `InputError` if there was none or the issue was changed since, `MachineError`.
    """
    catalogue = catalogue or shipped()
    issue = load_issue(path, dpi=dpi, catalogue=catalogue)
    folder = issue.folder(out)
    store = Store(folder, issue.path, Permissions(dry_run=dry_run))
    store.look()  # and end a move that was stopped
    last = read_renames(folder / LAST)
    if last is None or issue.path.read_bytes() != last.new_text.encode():
        came = (
            "no pages were moved here" if last is None else "the issue was changed since the move"
        )
        raise InputError(Problem((), came, todo="Move the pages again.", file=issue.path))
    back = [(step.new, step.old) for step in last.steps if state_of(folder / step.new)]
    _refuse_taken(folder, back)
    if not dry_run:
        store.rename(back, (last.new_text, last.old_text), last)
    move = Move(folder, tuple(back))
    return move if dry_run else _refreshed(move, issue.path, catalogue, dpi)


def _order(issue: LoadedIssue, wish: Wish) -> list[tuple[PagesAlike, PageEntry | None]]:
    """The pages as they shall be, each with what it is now; None for what is new."""
    last = issue.pages
    for number in (wish.first, wish.last, wish.after or 0, wish.like):
        if number and not 1 <= number <= last:
            allowed = f"pages from 1 to {last}"
            came = f"page {number} is not in the issue"
            raise InputError(Problem((), came, allowed, f"Take {allowed}.", argument="pages"))
    taken: list[PageEntry] = []
    rest: list[PageEntry] = []
    for entry in issue.entries:
        asked = entry.numbers[-1] >= wish.first > 0 and entry.numbers[0] <= wish.last
        (taken if asked else rest).append(entry)
    firsts = {entry.key: entry for entry in reversed([*rest, *taken])}
    of_taken, of_rest = (
        [(PagesAlike(_place(entry), first=firsts[entry.key] is entry), entry) for entry in some]
        for some in (taken, rest)
    )
    if wish.after is None:
        if not rest:
            came, todo = "no page would be left", "Leave at least one."
            raise InputError(Problem((), came, todo=todo, argument="pages"))
        return [*of_rest]
    place = 0
    if wish.after:
        places = [i for i, entry in enumerate(rest) if wish.after in entry.numbers]
        if not places:
            came = f"page {wish.after} is one of those that are moved"
            raise InputError(Problem((), came, todo="Name another one.", argument="after"))
        place = places[0] + 1
    return [*of_rest[:place], *(_new(wish, issue) if wish.new else of_taken), *of_rest[place:]]


def _place(entry: PageEntry) -> int:
    """Which entry of the issue's file a page comes from."""
    place = entry.key[1]
    assert isinstance(place, int)
    return place


def _new(wish: Wish, issue: LoadedIssue) -> list[tuple[PagesAlike, None]]:
    if not wish.like:
        return [(PagesAlike(-1 - number, new=wish.panels), None) for number in range(wish.new)]
    like = next(_place(entry) for entry in issue.entries if wish.like in entry.numbers)
    return [(PagesAlike(like), None) for _ in range(wish.new)]


def renamed(
    issue: LoadedIssue,
    new: LoadedIssue,
    order: Sequence[PageEntry | None],
    folder: Path,
    catalogue: FullCatalogue,
    dpi: int | None,
    *,
    dry_run: bool,
    back: Sequence[tuple[str, str]] = (),
) -> Move:
    """Give files the names of their pages in another issue, and the issue's file its text.

    `order` has for each page of `new` what it is now. Raises `InputError`, `MachineError`.
    """
    old_plans, new_plans = _by_entry(issue), _by_entry(new)
    canvases: dict[str, str | None] = {}
    told: list[str] = []
    for was, now in zip(order, new.entries, strict=True):
        if was is None:
            told.append(f"{_called(now)} new")
            continue
        pairs = zip(old_plans[was.numbers], new_plans[now.numbers], strict=True)
        canvases |= {old.file_name: fresh.file_name for old, fresh in pairs}
        if was.numbers != now.numbers:
            told.append(_told(was, now))
    for entry in issue.entries:
        if entry not in order:
            canvases |= {plan.file_name: None for plan in old_plans[entry.numbers]}
            told.append(f"{_called(entry)} taken out")
    store = Store(folder, issue.path, Permissions(dry_run=dry_run))
    store.look()  # and end a move that was stopped
    files = [*_files(folder, canvases), *back]
    _refuse_taken(folder, files)
    _refuse_others(store, files)
    move = Move(folder, tuple(files), tuple(told))
    if dry_run:
        return move
    texts = (_as_it_is(issue), _as_it_is(issue, new))
    store.rename(files, texts, read_renames(folder / LAST) if back else None)
    return _refreshed(move, issue.path, catalogue, dpi)


def _called(entry: PageEntry) -> str:
    return f"{entry.called} {'is' if len(entry.numbers) == 1 else 'are'}"


def _told(was: PageEntry, now: PageEntry) -> str:
    words = f"{was.called} → {now.called}"
    if was.side != now.side:
        words += f", now on the {now.side}: its guides are mirrored, and the art is not"
    return words


def _by_entry(issue: LoadedIssue) -> dict[tuple[int, ...], list[PagePlan]]:
    found: dict[tuple[int, ...], list[PagePlan]] = {}
    for plan in plan_issue(issue):
        found.setdefault(plan.numbers, []).append(plan)
    return found


def _files(folder: Path, canvases: dict[str, str | None]) -> Iterator[tuple[str, str]]:
    """Every file and folder of these canvases, of an app's own format too, and its new name.

    Raises `MachineError`.
    """
    if not folder.is_dir():
        return
    try:
        names = sorted(path.name for path in folder.iterdir())
    except OSError as error:
        raise MachineError.from_os(f"reading the folder {folder}", error) from None
    for name in names:
        stem, suffix = PurePath(name).stem, PurePath(name).suffix
        if (folder / name).is_dir() and name in canvases:
            stem, suffix = name, ""
        more = next((end for end in BESIDE if stem.endswith(end)), "")
        canvas = stem.removesuffix(more)
        if canvas not in canvases:
            continue
        new = canvases[canvas]
        if new is None:
            yield name, _free(folder, name)
        elif new != canvas:
            yield name, f"{new}{more}{suffix}"


def _free(folder: Path, name: str) -> str:
    """A name in the folder of what was taken out."""
    path, number = PurePath(name), 1
    found = f"{REMOVED}/{name}"
    while state_of(folder / found):
        number += 1
        found = f"{REMOVED}/{path.stem}.{number}{path.suffix}"
    return found


def _refuse_taken(folder: Path, files: Sequence[tuple[str, str]]) -> None:
    """Raise `InputError` if a file that stays has one of the new names."""
    moving = {old for old, _ in files}
    for _, new in files:
        if new not in moving and state_of(folder / new):
            came = "this file stands where a moved page would go, and is of no page"
            raise InputError(Problem((), came, todo="Move it away.", file=folder / new))


def _refuse_others(store: Store, files: Sequence[tuple[str, str]]) -> None:
    """Raise `InputError` if a file is of another issue, whose pages would come apart."""
    for old, _ in files:
        if store.is_of_another_issue(old):
            came, todo = "this file was made for another issue", "Give one of the two a file_name."
            raise InputError(Problem((), came, todo=todo, file=store.folder / old))


def _refreshed(move: Move, path: Path, catalogue: FullCatalogue, dpi: int | None) -> Move:
    """The guides of their new pages in the drawings that moved."""
    names = {new for _, new in move.files}
    issue = load_issue(path, dpi=dpi, catalogue=catalogue)
    numbers = {
        number
        for plan in plan_issue(issue)
        if any(PurePath(name).stem == plan.file_name for name in names)
        for number in plan.numbers
    }
    if not numbers:
        return move
    report = refresh_issue(path, move.folder, pages=numbers, dpi=dpi, catalogue=catalogue)
    return replace(move, refreshed=report)


def _as_it_is(issue: LoadedIssue, new: LoadedIssue | None = None) -> str:
    """The text of an issue's file, or a new one, with the mark that some editors begin with."""
    mark = issue.path.read_bytes()[:3] == BYTE_ORDER_MARK.encode()
    return BYTE_ORDER_MARK * mark + (new or issue).file.text.decode()
