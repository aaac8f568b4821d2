"""All that plug-ins bring as entries of registries; what is broken keeps the others as they are."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from guidekit.errors import InputError
from guidekit.plugins.installed import BroughtPart, Plugin, plain
from guidekit.plugins.load import folder_of
from guidekit.registry import Entry

if TYPE_CHECKING:
    from guidekit.issue.models.part import Layout
    from guidekit.layers.guides.kind import Guide
    from guidekit.writers import Writer


@dataclass(frozen=True)
class Brought:
    """What plug-ins bring; `told` hears of folders that are not there or cannot be read."""

    plugins: tuple[Plugin, ...]
    told: Callable[[str], object]

    def has(self, kind: str) -> bool:
        """True if any of them says that it brings something of a kind."""
        return any(True for plugin in self.plugins for _ in plugin.of(kind))

    def preset_files(self) -> Iterator[tuple[str, Path]]:
        """Each file of the folders that they name, with its owner."""
        for plugin in self.plugins:
            for part in plugin.of("presets"):
                try:
                    files = sorted(folder_of(plugin, part).glob("*.toml"))
                except InputError as error:
                    self.told(str(error))
                else:
                    yield from ((str(plugin), path) for path in files)

    def layouts(self) -> Iterator[Entry[Layout]]:
        """Each table in the files of the folders that they name."""
        from guidekit.issue.layouts import layouts_in

        for plugin in self.plugins:
            for part in plugin.of("layouts"):
                try:
                    yield from [*layouts_in(folder_of(plugin, part), str(plugin))]
                except InputError as error:
                    self.told(str(error))

    def guides(self) -> Iterator[Entry[Guide]]:
        """Each is loaded when an issue names it."""
        for plugin in self.plugins:
            for part in plugin.of("guides"):
                make = partial(_guide, plugin, part)
                yield Entry(part.name, str(plugin), make, plugin.about, on_request=True)

    def writers(self) -> Iterator[Entry[Callable[[], Writer]]]:
        """Each is loaded when a build asks for its format."""
        for plugin in self.plugins:
            for part in plugin.of("writers"):
                make: Callable[[], Writer] = partial(_writer, plugin, part)
                entry = Entry.of(part.name, str(plugin), make, plugin.about)
                yield replace(entry, on_request=True)


def allowed(plugins: Sequence[Plugin], names: Collection[str] | None) -> tuple[Plugin, ...]:
    """Those of the `names` alone, in any spelling; all if None."""
    if names is None:
        return tuple(plugins)
    known = {plain(name) for name in names}
    return tuple(plugin for plugin in plugins if plain(plugin.name) in known)


def _guide(plugin: Plugin, part: BroughtPart) -> Guide:
    from guidekit.plugins.guard import guide_of  # it loads what draws

    return guide_of(plugin, part)


def _writer(plugin: Plugin, part: BroughtPart) -> Writer:
    from guidekit.plugins.guard import writer_of

    return writer_of(plugin, part)
