"""Folders with presets and layouts: each has presets in ``*.toml`` and layouts in ``layouts/``.

Only names are read here; a file is opened when something in it is wanted.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from guidekit.errors import InputError, MachineError
from guidekit.registry import Entry
from guidekit.studio.places.folder import Folder, in_time
from guidekit.studio.places.held import Held

if TYPE_CHECKING:
    from guidekit.issue.models.part import Layout

LAYOUTS = "layouts"
PACKS = "packs"
BESIDE = "beside the issue"

Tell = Callable[[str], object]
Listing = Callable[[Path], list[str]]


@dataclass(frozen=True)
class Place:
    """A folder as it was listed: its files of presets, of layouts, its packs, sorted by name."""

    owner: str
    presets: tuple[Held, ...] = ()
    layouts: tuple[Held, ...] = ()
    packs: tuple[Path, ...] = ()

    def layout_entries(self, tell: Tell) -> Iterator[Entry[Layout]]:
        """Each layout, checked when it is used; `tell` hears of files that cannot be read."""
        from guidekit.issue.layouts import layouts_of

        for held in self.layouts:
            try:
                yield from layouts_of(held.toml(), held.owner)
            except (InputError, MachineError) as error:
                tell(f"{error} The layouts in it are left out.")


def listed(folder: Path) -> list[str]:
    """The names of all presets, files of layouts and packs in a folder, sorted.

    Raises `OSError` where it is not there or cannot be listed.
    """
    names = _names(folder)
    found = [name for name in names if name.endswith(".toml")]
    for inner, ending in ((LAYOUTS, ".toml"), (PACKS, ".zip")):
        if inner in names:
            found += [f"{inner}/{x}" for x in _names(folder / inner) if x.endswith(ending)]
    return sorted(found)


def _names(folder: Path) -> list[str]:
    return [path.name for path in folder.iterdir() if path.name[:1] != "."]


def place(
    owner: str, folder: Path, tell: Tell, *, missing_ok: bool = False, read: Listing = listed
) -> Place:
    """A folder, listed by `read`; one that is closed or does not answer is empty, and told."""
    try:
        found = in_time(partial(read, folder))
    except FileNotFoundError as error:
        if not missing_ok:
            tell(f"{folder} is left out: {error.strerror}.")
        return Place(owner)
    except OSError as error:
        tell(f"{folder} is left out: {error.strerror or error}.")
        return Place(owner)
    files = Folder(*(folder / name for name in found))
    held = [(name.partition("/")[0], Held(owner, folder / name, folder=files)) for name in found]
    packs = tuple(one.path for kind, one in held if kind == PACKS)
    packed = [one for path in packs for one in _packed(owner, path, files, tell)]
    held += [(LAYOUTS if one.path.parent.name == LAYOUTS else "", one) for one in packed]
    layouts = tuple(one for kind, one in held if kind == LAYOUTS)
    presets = tuple(one for kind, one in held if kind not in (LAYOUTS, PACKS))
    return Place(owner, presets, layouts, packs)


def _packed(owner: str, path: Path, files: Folder, tell: Tell) -> Iterator[Held]:
    """The presets and layouts in a pack; one that is not sound is left out and told."""
    from guidekit.studio.pack_file.archive import read_pack

    try:
        pack = files.done(partial(read_pack, path))
    except TimeoutError as error:
        tell(f"{path} is left out: {error.strerror or error}.")
        return
    except (InputError, MachineError) as error:
        tell(f"{error} It is left out.")
        return
    for name, text in pack.files.items():
        if name.endswith(".toml"):
            yield Held(f"{owner}, pack {pack.card.name}", path / name, text)


def beside(issue: Path, tell: Tell) -> Place:
    """The folder of an issue, without the issue itself."""
    here = place(BESIDE, issue.parent, tell)
    return replace(here, presets=tuple(x for x in here.presets if x.path.name != issue.name))
