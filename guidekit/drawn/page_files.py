"""Every file of a page, of whatever format, and its name when the page has another number."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from pathlib import Path, PurePath

from guidekit.errors import InputError, MachineError, Problem
from guidekit.store.files import state_of
from guidekit.store.folder import Store

REMOVED = "removed"
BESIDE = ("-small", "-page")  # what file names of flat formats have behind that of the canvas

Names = tuple[str, str]  # the old one and the new one, seen from the folder


def names_after(folder: Path, canvases: Mapping[str, str | None]) -> Iterator[Names]:
    """Every file and folder of these canvases that gets another name.

    Those of a canvas that has none any more go to the folder of what was taken out. Raises
    `InputError`, `MachineError`.
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


def is_blank(store: Store, canvas: str) -> bool:
    """True if nobody drew on any file of a canvas. Raises `InputError`, `OSError`."""
    return all(store.is_as_written(name) for name, _ in names_after(store.folder, {canvas: None}))


def _free(folder: Path, name: str) -> str:
    """A name in the folder of what was taken out."""
    path, number = PurePath(name), 1
    found = f"{REMOVED}/{name}"
    while state_of(folder / found):
        number += 1
        found = f"{REMOVED}/{path.stem}.{number}{path.suffix}"
    return found


def refuse_unfit(store: Store, files: Collection[Names]) -> None:
    """Raise `InputError` with all that stands in the way of new names.

    That is a file that stays under one of them, one of another issue, whose pages would come apart,
    and a folder of what is taken out that is none.
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
    if problems:
        raise InputError(problems)
