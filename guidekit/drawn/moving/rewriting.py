"""An issue's file with another text, and the files of its pages along with it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from guidekit.drawn.moving.canvases import canvases_after
from guidekit.drawn.moving.new_names import Names
from guidekit.drawn.moving.renaming import Move, Renaming
from guidekit.errors import MachineError
from guidekit.geometry.plan import plan_issue
from guidekit.shipped import FullCatalogue, shipped


def rewrite_issue(
    path: str | Path,
    texts: tuple[str, str],
    order: Sequence[tuple[int, ...] | None],
    *,
    back: Sequence[Names] = (),
    agree: Callable[[Move], bool] = lambda move: True,
    catalogue: FullCatalogue | None = None,
) -> Move:
    """Give an issue's file another text, and the files beside it the names of their new pages.

    `texts` are the one that it has and the new one. `order` has for each page of the new one the
    numbers that it has now, None for a new one; `back` are names of files in the folder `removed`
    with those that they get again. Nothing is done to which `agree` does not. All else is as in
    `move_pages`. Raises `InputError`, `MachineError`, also where the file has another text by now.
    """
    old, text = texts
    work = Renaming(path, None, None, catalogue or shipped(), dry_run=False)
    if work.issue.file.text != old.encode():
        raise MachineError(f"{path}: this file has changed just now. Run it again.")
    new = work.issue_of(text.encode())
    plans = plan_issue(new)
    canvases = canvases_after(work.plans, plans, order)
    return work.done(new, plans, canvases, back, agree=agree)
