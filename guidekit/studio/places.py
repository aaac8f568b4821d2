"""Folders with presets and layouts: each has presets in ``*.toml`` and layouts in ``layouts/``.

A folder that does not answer, as on a drive of a network that is down, is left out after
`PATIENCE` seconds. Only names are read here; a file is opened when something in it is wanted. A
drive may die between the two: `Folder` waits no longer for a file either, and never twice.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import partial
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar
from unicodedata import normalize

from guidekit.errors import InputError, MachineError
from guidekit.patience import within
from guidekit.registry import Entry
from guidekit.store.files import open_ordinary

if TYPE_CHECKING:
    from guidekit.issue.models.part import Layout
    from guidekit.toml import TomlFile

PATIENCE = 2.0  # seconds for a folder to answer
LAYOUTS = "layouts"
PACKS = "packs"
BESIDE = "beside the issue"

AHEAD = 20  # files that are read in one go by those who want all of them

Tell = Callable[[str], object]
Listing = Callable[[Path], list[str]]
T = TypeVar("T")


class Folder:
    """A folder whose files are read, for as long as it answers."""

    def __init__(self, *files: Path):
        self._next = dict(pairwise(files))
        self._texts: dict[Path, bytes | OSError | None] = {}
        self._is_dead = False

    def done(self, work: Callable[[], T]) -> T:
        """What `work` in this folder gives; raises `TimeoutError` if there is no answer."""
        if self._is_dead:
            raise TimeoutError("no answer as before")
        try:
            return within(PATIENCE, work)
        except TimeoutError:
            self._is_dead = True
            raise

    def text(self, path: Path) -> bytes | None:
        """What is in a file, and None for what is none; those after it are read as well."""
        if path not in self._texts:
            files = [path]
            while len(files) < AHEAD and files[-1] in self._next:
                files.append(self._next[files[-1]])
            self._texts |= self.done(partial(_texts, files))
        found = self._texts.pop(path)
        if isinstance(found, OSError):
            raise found
        return found


def _texts(files: list[Path]) -> dict[Path, bytes | OSError | None]:
    texts: dict[Path, bytes | OSError | None] = {}
    for path in files:
        try:
            with open_ordinary(path) as file:
                texts[path] = file.read().removeprefix(b"\xef\xbb\xbf") if file else None
        except OSError as error:
            texts[path] = error
    return texts


@dataclass(frozen=True)
class Held:
    """A file with a preset or with layouts: who brought it, its path, and the folder that has it.

    One in a pack has what is in it, and no path that leads to it.
    """

    owner: str
    path: Path
    packed: bytes | None = None
    folder: Folder = field(default_factory=Folder, compare=False)

    @property
    def name(self) -> str:
        """That of the preset."""
        return normalize("NFC", self.path.stem)

    def text(self) -> bytes:
        """What is in it, without a byte order mark; raises `InputError`, `OSError`."""
        if self.packed is not None:
            return self.packed
        found = self.folder.text(self.path)
        return self.toml().text if found is None else found

    def toml(self) -> TomlFile:
        """The same, read as TOML; raises `InputError`, `MachineError`."""
        from guidekit.toml import read_toml, toml_in

        if self.packed is not None:
            return toml_in(self.path, self.packed)
        try:
            return self.folder.done(partial(read_toml, self.path))
        except TimeoutError as error:
            raise MachineError.from_os(f"reading {self.path}", error) from None

    def entry(self) -> Entry[TomlFile]:
        """The preset in it, read when it is used."""
        return Entry(self.name, self.owner, self.toml)

    def has_pages(self) -> bool:
        """True if it is an issue and no preset."""
        from guidekit.issue.load import names_pages

        return names_pages(self.path)


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


def lock_path(issue: Path) -> Path:
    """Where the lock of an issue lies: ``salt-road.lock.json`` beside ``salt-road.toml``."""
    return issue.with_suffix(".lock.json")


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
        found = within(PATIENCE, partial(read, folder))
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
    from guidekit.studio.pack_file import read_pack

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
