"""Packs in a folder: added, moved on and removed whole, by one process at a time.

A pack is kept as the file that it is, in ``packs/`` of a folder with presets. So the old one or
the new one is there at any moment, whatever ends the process.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from guidekit.errors import InputError, MachineError, Problem, one_of, shown
from guidekit.registry import folded
from guidekit.store.files import flush_folder, part_of, state_of, write_whole
from guidekit.store.folder_lock import locked
from guidekit.studio.pack_file.archive import Pack, read_pack
from guidekit.studio.places.held import Held
from guidekit.studio.places.place import PACKS, Place
from guidekit.wording import parameter

WHO = "another guidekit"


def pack_path(folder: Path, name: str) -> Path:
    """Where a folder keeps the pack of this name."""
    return folder / PACKS / f"{name}.zip"


@contextmanager
def packs_of(folder: Path) -> Iterator[Path]:
    """The packs of a folder, for one process at a time; raises `MachineError`."""
    packs = folder / PACKS
    try:
        packs.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise MachineError.from_os(f"making the folder {packs}", error) from None
    with locked(packs, WHO):
        yield packs


def refuse_doubles(pack: Pack, to: Place) -> None:
    """Raise `InputError` if a folder has a preset or layout of the pack's already, elsewhere."""
    path = next((x for x in to.packs if folded(x.stem) == folded(pack.card.name)), None)
    names = {folded(name): name for name in pack.presets}
    names_of_layouts = {folded(name) for file in pack.layouts for name in file.values}
    doubles = [x for x in to.presets if folded(x.name) in names and not _is_in(x, path)]
    doubles += [
        held
        for held in to.layouts
        if not _is_in(held, path) and names_of_layouts & {*map(folded, held.toml().values)}
    ]
    if doubles:
        named = one_of(str(held.path) for held in doubles)
        came = f"there is one of the same name already in {named}"
        todo = f"Remove that first, or add the pack to another folder with {parameter('to')}."
        raise InputError(Problem((), came, todo=todo, file=pack.path))


def _is_in(held: Held, pack: Path | None) -> bool:
    return pack is not None and held.path.is_relative_to(pack)


def put_pack(pack: Pack, packs: Path) -> None:
    """Put a pack into the folder of packs, whole; raises `MachineError`."""
    path = packs / f"{pack.card.name}.zip"
    try:
        state = state_of(path)
        if not write_whole(path, [pack.data], part_of(path), state):
            raise MachineError(f"{path} changed in this moment. Run it again.")
        flush_folder(packs)
    except OSError as error:
        raise MachineError.from_os(f"writing {path}", error) from None


def found_pack(name: str, folder: Path) -> Pack:
    """The pack of this name in a folder; raises `InputError` with those that there are."""
    path = pack_path(folder, name)
    if os.sep in name or not path.is_file():
        there = sorted(one.stem for one in (folder / PACKS).glob("*.zip"))
        came = f"there is no pack {shown(name)} in {folder}"
        raise InputError(Problem((), came, one_of(there) if there else "", argument="name"))
    return read_pack(path)


def remove_pack(pack: Pack) -> None:
    """Take a pack out of its folder; raises `MachineError`."""
    try:
        pack.path.unlink(missing_ok=True)
        flush_folder(pack.path.parent)
    except OSError as error:
        raise MachineError.from_os(f"removing {pack.path}", error) from None
