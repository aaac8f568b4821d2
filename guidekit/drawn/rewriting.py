"""An issue's file with another text, and the files of its pages along with it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from guidekit.drawn.page_files import Names
from guidekit.drawn.renaming import Move, Renaming, canvases_after
from guidekit.geometry.plan import plan_issue
from guidekit.shipped import FullCatalogue, shipped


def rewrite_issue(
    path: str | Path,
    text: str,
    order: Sequence[tuple[int, ...] | None],
    *,
    back: Sequence[Names] = (),
    catalogue: FullCatalogue | None = None,
    dry_run: bool = False,
) -> Move:
    """Give an issue's file another `text`, and the files beside it the names of their new pages.

    `order` has for each page of the new text the numbers that it has now, None for a new one;
    `back` are names of files in the folder `removed` with those that they get again. All else is
    as in `move_pages`. Raises `InputError`, `MachineError`.
    """
    work = Renaming(path, None, None, catalogue or shipped(), dry_run=dry_run)
    new = work.issue_of(text.encode())
    plans = plan_issue(new)
    return work.done(new, plans, canvases_after(work.plans, plans, order), back)
