"""The names of all files of pages that get another number, and what stands in their way."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from pathlib import Path, PurePath

from guidekit.drawn.standing.page_files import page_files
from guidekit.errors import InputError, Problem
from guidekit.store.files import is_read_only, state_of
from guidekit.store.folder import Store

REMOVED = "removed"

Names = tuple[str, str]  # the old one and the new one, seen from the folder


def names_after(folder: Path, canvases: Mapping[str, str | None]) -> Iterator[Names]:
    """Every file and folder of these canvases that gets another name.

    Those of a canvas that has none any more go to the folder of what was taken out. Raises
    `MachineError`.
    """
    for name, canvas, ending in page_files(folder, canvases):
        new = canvases[canvas]
        if new is None:
            yield name, _free(folder, name)
        elif new != canvas:
            yield name, f"{new}{ending}"


def _free(folder: Path, name: str) -> str:
    """A name in the folder of what was taken out."""
    path, number = PurePath(name), 1
    found = f"{REMOVED}/{name}"
    while state_of(folder / found):
        number += 1
        found = f"{REMOVED}/{path.stem}.{number}{path.suffix}"
    return found


def refuse_unfit(store: Store, files: Collection[Names], rewritten: Path | None) -> None:
    """Raise `InputError` with all that stands in the way of new names.

    That is a file that stays under one of them, one of another issue, whose pages would come apart,
    a folder of what is taken out that is none, and an issue's file that is read-only and would be
    `rewritten`.
    """
    folder, moving = store.folder, {old for old, _ in files}
    problems = []
    for old, new in files:
        if new not in moving and state_of(folder / new):
            came = "this file stands where a moved page would go, and stays"
            problems.append(Problem((), came, todo="Move it away.", file=folder / new))
        if store.is_of_another_issue(old):
            came, todo = "this file was made for another issue", "Give one of the two a file_name."
            problems.append(Problem((), came, todo=todo, file=folder / old))
        try:
            old.encode()
        except UnicodeEncodeError:
            came, todo = "this name is not UTF-8", "Give it another one."
            problems.append(Problem((), came, todo=todo, file=folder / old))
    removed = folder / REMOVED
    fit = removed.is_dir() and not removed.is_symlink()
    if any("/" in new for _, new in files) and state_of(removed) and not fit:
        came = "this is no folder, and stands where pages that are taken out would go"
        problems.append(Problem((), came, todo="Move it away.", file=removed))
    state = state_of(rewritten) if rewritten else None
    if state and is_read_only(state):
        todo = "Make it writable, and run again."
        problems.append(Problem((), "this file is read-only", todo=todo, file=rewritten))
    if problems:
        raise InputError(problems)
