"""One file that is drawn on, and today's guides for it."""

from __future__ import annotations

import os
from contextlib import ExitStack
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, Any

from guidekit.drawn.ours.new_layers import told_blank
from guidekit.drawn.psd.drawing import PsdDrawing
from guidekit.drawn.psd.refreshed import PsdRefresh, planned
from guidekit.drawn.refreshing.fits import (
    is_drawn_on,
    place_of,
    refuse_other_page,
    refuse_other_size,
    wants_of,
)
from guidekit.drawn.refreshing.new_file import NewFile, Work
from guidekit.drawn.refreshing.refresh_report import Refreshed, RefreshOutcome, tried
from guidekit.drawn.spans.source import Source
from guidekit.drawn.standing.changes import changes
from guidekit.drawn.standing.made_now import is_made_now
from guidekit.drawn.standing.own_words import note_guides, own_info, recorded_info
from guidekit.drawn.unfit import UnfitError
from guidekit.geometry.page import PagePlan
from guidekit.layers.prints import whole_info
from guidekit.layers.standard import standard_stack
from guidekit.shipped import FullCatalogue
from guidekit.store.before import Before
from guidekit.store.files import digest_of, is_read_only, open_ordinary
from guidekit.store.folder import Store

if TYPE_CHECKING:
    from guidekit.drawn.ora.drawing import OraDrawing
    from guidekit.drawn.ora.refreshed import OraRefresh


class OneFile:
    """One file with the page that it is of."""

    def __init__(
        self,
        store: Store,
        before: Before | None,
        plan: PagePlan,
        name: str,
        catalogue: FullCatalogue,
    ):
        self.store, self.before, self.plan, self.name = store, before, plan, name
        self.catalogue, self.stack = catalogue, standard_stack(plan, catalogue.guides)
        self.path = store.folder / name
        self.entry = store.entry(name)
        self.is_ora = self.path.suffix.lower() == ".ora"

    def begun(self, every: tuple[PagePlan, ...] | None) -> Refreshed | NewFile:
        """What became of the file, or the new one to be made.

        `every` page of the issue is given if it may not have other panels.
        """
        with ExitStack() as held:
            return tried(self.name, self.plan.numbers, partial(self._begun, every, held))

    def _left(self, outcome: RefreshOutcome) -> Refreshed:
        return Refreshed(self.name, self.plan.numbers, outcome)

    def _begun(self, every: tuple[PagePlan, ...] | None, held: ExitStack) -> Refreshed | NewFile:
        file = held.enter_context(open_ordinary(self.path))
        if file is None or self.path.is_symlink():
            raise UnfitError("this is no file of its own", "Put the file itself here.")
        if self.store.is_of_another_issue(self.name):
            raise UnfitError(
                "it was made for another issue", "Give one of the two another file_name."
            )
        state, drawing = os.fstat(file.fileno()), self._drawing(Source(file))
        told = own_info(self.path)
        if self.entry and not is_drawn_on(drawing, told):
            file.seek(0)
            if digest_of(file) == self.entry.sha256:
                return self._left("empty")
        if is_read_only(state):
            raise UnfitError("it is read-only", "Make it writable, and run again.")
        info = told or recorded_info(self.store, self.entry)
        if every:
            refuse_other_page(info, self.plan, every)
        work = self._work(drawing, info)
        today = whole_info(self.stack)
        if not work.changed:
            self._note(today)
            return replace(self._left("up to date"), notes=tuple(work.notes))
        changed = changes(info, today) or ("guides as they are drawn now",)
        done = replace(self._left("refreshed"), changed=changed, notes=tuple(work.notes))
        if not self.before:
            return done
        held.callback(work.close)
        return NewFile(self.store, self.before, work, file, state, today, done, held.pop_all())

    def _note(self, guides: dict[str, Any]) -> None:
        """Keep in the record what guides a drawing has; what is blank a build will tell of."""
        if self.before and (self.entry or not is_made_now(self.path, self.plan, self.catalogue)):
            note_guides(self.store, self.name, guides)

    def _drawing(self, source: Source) -> PsdDrawing | OraDrawing:
        if self.is_ora:
            from guidekit.drawn.ora.drawing import OraDrawing

            return OraDrawing(source)
        return PsdDrawing(source)

    def _work(self, drawing: PsdDrawing | OraDrawing, info: dict[str, Any] | None) -> Work:
        wants, place = wants_of(info, self.stack), place_of(info, self.plan)
        given = told_blank(info)
        work: PsdRefresh | OraRefresh
        if isinstance(drawing, PsdDrawing):
            work = planned(drawing, wants, self.stack, place, given)
        else:
            from guidekit.drawn.ora.refreshed import planned_ora

            work = planned_ora(drawing, wants, self.stack, place, given)
        if info is None and not work.found.known:
            raise UnfitError("nothing in it is guidekit's", "Move it away, and build the page.")
        refuse_other_size(drawing.size, drawing.dpi, info, self.plan, tiles=self.is_ora)
        return work
