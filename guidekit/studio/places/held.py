"""A file with a preset or with layouts, known by name and opened when it is wanted."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING
from unicodedata import normalize

from guidekit.errors import MachineError
from guidekit.registry import Entry
from guidekit.studio.places.folder import Folder

if TYPE_CHECKING:
    from guidekit.toml import TomlFile


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
