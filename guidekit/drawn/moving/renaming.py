"""Files that get other names with their pages: shown first, done as a whole, then refreshed."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from pathlib import Path, PurePath

from guidekit.drawn.info import Info
from guidekit.drawn.moving.canvases import Canvases, Stood, told_moves
from guidekit.drawn.moving.new_names import Names, names_after, refuse_unfit
from guidekit.drawn.refreshing.refresh import refresh_issue, undo_refresh
from guidekit.drawn.refreshing.refresh_report import RefreshReport
from guidekit.drawn.standing.known_again import known_again
from guidekit.drawn.standing.page_files import is_blank
from guidekit.drawn.standing.renamed_issue import under_other_name
from guidekit.drawn.standing.stood import stood_in
from guidekit.errors import MachineError
from guidekit.geometry.digest import PlanDigests
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import plan_issue
from guidekit.issue import LoadedIssue
from guidekit.issue.load import loaded
from guidekit.measure import load_issue
from guidekit.shipped import FullCatalogue
from guidekit.store.files import state_of
from guidekit.store.folder import Permissions, Store
from guidekit.toml.file import toml_in

BYTE_ORDER_MARK = b"\xef\xbb\xbf"


@dataclass(frozen=True)
class Move:
    """What is done, or would be: names of files before and after, seen from the folder.

    `told` are the pages whose numbers change, in words; `refreshed` what became of the drawings.
    """

    folder: Path
    files: tuple[Names, ...]
    told: tuple[str, ...] = ()
    refreshed: RefreshReport | None = None

    @property
    def complete(self) -> bool:
        """True if all drawings that moved have the guides of their new pages."""
        return self.refreshed is None or self.refreshed.complete


class Renaming:
    """An issue with its folder; a move of pages that was stopped there is brought to its end.

    Raises `InputError`, `MachineError`.
    """

    def __init__(
        self,
        path: str | Path,
        out: str | Path | None,
        dpi: int | None,
        catalogue: FullCatalogue,
        *,
        dry_run: bool,
    ):
        self.dpi, self.catalogue, self.dry_run = dpi, catalogue, dry_run
        issue = load_issue(path, dpi=dpi, catalogue=catalogue)
        self.store = Store(issue.folder(out), issue.path, Permissions(dry_run=dry_run))
        if self.store.ended():  # and may have brought the issue's file to its new text
            issue = load_issue(path, dpi=dpi, catalogue=catalogue)
        self.entries = self.store.look()
        self.issue = issue
        self.plans = plan_issue(issue)

    def issue_of(self, text: bytes) -> LoadedIssue:
        """The issue with another text; raises `InputError`."""
        file = toml_in(self.issue.path, text.removeprefix(BYTE_ORDER_MARK))
        return loaded(file, self.catalogue, self.dpi)

    @cached_property
    def gone_by_hand(self) -> dict[str, PagePlan | None]:
        """Canvases whose pages have other numbers in the issue's file than they were drawn with."""
        return known_again(self._infos, self.plans, PlanDigests(), self._is_blank)

    @cached_property
    def under_other_name(self) -> dict[str, PagePlan]:
        """Canvases that stand under another name of the issue."""
        folder, name = self.store.folder, self.issue.file_name
        there = [entry for file, entry in self.entries.items() if state_of(folder / file)]
        return under_other_name(self.store, there, self.plans, name, self._is_blank)

    @property
    def stood_by_hand(self) -> dict[str, Stood]:
        """What the canvases were of that are `gone_by_hand`."""
        pages = {canvas: self._infos[canvas]["page"] for canvas in self.gone_by_hand}
        return {
            name: Stood((*page["pages"],), page.get("side", "")) for name, page in pages.items()
        }

    def following(self) -> Canvases:
        """The new name of every canvas if files follow their pages."""
        gone = self.gone_by_hand or self.under_other_name
        went: Canvases = {canvas: plan.file_name if plan else None for canvas, plan in gone.items()}
        if not went:
            return {}
        stay: Canvases = {plan.file_name: plan.file_name for plan in self.plans}
        for canvas in {*filter(None, went.values())} - went.keys():
            if self._is_blank(canvas):
                stay[canvas] = None
        return stay | went

    def done(
        self,
        new: LoadedIssue,
        plans: Sequence[PagePlan],
        canvases: Canvases,
        back: Sequence[Names] = (),
        *,
        stood: Mapping[str, Stood] | None = None,
        undo: bool = False,
        agree: Callable[[Move], bool] = lambda move: True,
    ) -> Move:
        """Give all files the names of their canvases, and the issue's file its new text.

        `plans` are those of the `new` issue; files that come `back` have no canvas now. `stood` is
        what the canvases were of, if that is not what the issue says. Nothing is done to which
        `agree` does not.
        """
        store, path = self.store, self.issue.path

        def found() -> tuple[Names, ...]:
            return (*back, *names_after(store.folder, canvases))

        files = found()
        old_text, new_text = self.issue.file.text, new.file.text
        refuse_unfit(store, files, path if old_text != new_text else None)
        if stood is None:
            stood = {plan.file_name: Stood(plan.numbers, plan.side) for plan in self.plans}
        told = tuple(dict.fromkeys(told_moves(stood, plans, canvases)))
        move = Move(store.folder, files, told)
        if self.dry_run or (not files and old_text == new_text) or not agree(move):
            return move
        if path.read_bytes().startswith(BYTE_ORDER_MARK):
            old_text, new_text = BYTE_ORDER_MARK + old_text, BYTE_ORDER_MARK + new_text
        texts = (old_text.decode(), new_text.decode())
        store.rename(files, texts, canvases, still=lambda: found() == files, undo=undo)
        if undo and old_text == new_text:
            return self._as_they_were(move)
        return self._refreshed(move, plans)

    @cached_property
    def _infos(self) -> dict[str, Info]:
        try:
            return stood_in(self.store, self.issue.file_name)
        except OSError as error:
            raise self._unread(error) from None

    def _is_blank(self, canvas: str) -> bool:
        try:
            return is_blank(self.store, canvas)
        except OSError as error:
            raise self._unread(error) from None

    def _unread(self, error: OSError) -> MachineError:
        return MachineError.from_os(f"reading the folder {self.store.folder}", error)

    def _as_they_were(self, move: Move) -> Move:
        """The drawings as they were before they followed their pages, if no refresh came since."""
        names = {new for _, new in move.files}
        known = self.catalogue
        report = undo_refresh(self.issue.path, move.folder, among=names, catalogue=known)
        return replace(move, refreshed=report)

    def _refreshed(self, move: Move, plans: Sequence[PagePlan]) -> Move:
        """The guides of their new pages in the drawings that moved."""
        stems = {PurePath(new).stem for _, new in move.files}
        numbers = {n for plan in plans if plan.file_name in stems for n in plan.numbers}
        if not numbers:
            return move
        report = refresh_issue(
            self.issue.path,
            move.folder,
            pages=numbers,
            named=False,
            dpi=self.dpi,
            catalogue=self.catalogue,
        )
        return replace(move, refreshed=report)
