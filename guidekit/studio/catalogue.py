"""All that an issue may name: beside it, the maker's own, the studio's, plug-ins', and shipped."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import chain
from os.path import lexists
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from guidekit.plugins.catalogue import Brought, allowed
from guidekit.plugins.installed import installed
from guidekit.registry import Entry, Registry, folded, stacked
from guidekit.registry.places import single
from guidekit.shipped import OWNER, FullCatalogue, shipped
from guidekit.studio.lock.path import lock_path
from guidekit.studio.places.held import Held
from guidekit.studio.places.place import Place, beside, place
from guidekit.studio.settings.config import Settings, settings

if TYPE_CHECKING:
    from guidekit.issue.models.part import Layout
    from guidekit.studio.lock.model import Lock

Thing = TypeVar("Thing")


@dataclass(frozen=True)
class Studio:
    """What there is to name from an `issue`, or from nowhere in particular if that is None.

    `warnings` grows as places are looked at, for that is done when a name of their kind is.
    """

    settings: Settings
    issue: Path | None = None
    plugins: bool = True
    locked: bool = True
    warnings: list[str] = field(default_factory=list)

    @cached_property
    def catalogue(self) -> FullCatalogue:
        """Everything by name; what the issue's lock has counts before all other."""
        if self.issue and self.lock:
            from guidekit.studio.lock.held import with_lock

            return with_lock(self.here, self.lock, self.issue)
        return self.here

    @cached_property
    def lock(self) -> Lock | None:
        """What the issue is held to; None without a lock. Raises `InputError` for a wrong one."""
        if not self.issue or not self.locked or not lexists(lock_path(self.issue)):
            return None
        from guidekit.studio.lock.model import read_lock

        return read_lock(self.issue)

    def unlocked(self) -> Studio:
        """The same for those who look past the lock."""
        return replace(self, locked=False)

    def look_at_lock(self) -> None:
        """Warn of what has moved on since the issue was locked, and of what is not locked."""
        for sentence in self.since_lock() or ():
            self._tell(sentence)

    def since_lock(self) -> list[str] | None:
        """What has moved on since the issue was locked, in sentences; None without a lock.

        Raises `InputError`.
        """
        if not self.issue or not self.lock:
            return None
        from guidekit.studio.lock.moved import moved_on

        plugins = self.brought.plugins
        return [*moved_on(self.issue, self.lock, self.catalogue, self.here, plugins)]

    @cached_property
    def here(self) -> FullCatalogue:
        """Everything by name; places are looked at when a name of their kind is looked up."""
        ours = shipped()
        return replace(
            ours,
            presets=replace(ours.presets, source=lambda: self._presets(Held.entry)),
            layouts=replace(ours.layouts, source=self._layouts),
            guides=_with(ours.guides, lambda: self.brought.guides()),
            writers=_with(ours.writers, lambda: self.brought.writers()),
        )

    @cached_property
    def brought(self) -> Brought:
        """What plug-ins bring, of those that may run."""
        found = installed() if self.plugins else ()
        return Brought(allowed(found, self.settings.plugins), self._tell)

    @cached_property
    def _folders(self) -> list[Place]:
        """The maker's own folder, which need not be there, and those of the studio."""
        own = place("your folder", self.settings.own_folder, self._tell, missing_ok=True)
        folders = self.settings.studio_folders
        return [own, *(place(f"studio {folder}", folder, self._tell) for folder in folders)]

    @cached_property
    def _beside(self) -> Place | None:
        """The folder of the issue."""
        return beside(self.issue, self._tell) if self.issue else None

    def held_presets(self) -> list[Entry[Held]]:
        """The files of all presets that count, the nearest first, none of them read."""
        return self._presets(lambda held: Entry.of(held.name, held.owner, held))

    def has_layouts(self) -> bool:
        """True if there is any layout but those that come with guidekit."""
        places = [*self._folders, *([self._beside] if self._beside else [])]
        return any(one.layouts for one in places) or bool(self.brought.has("layouts"))

    def _presets(self, entry: Callable[[Held], Entry[Thing]]) -> list[Entry[Thing]]:
        from guidekit.shipped import shipped_folder

        places = [[*one.presets] for one in self._folders]
        places.append([Held(owner, path) for owner, path in self.brought.preset_files()])
        shipped_files = sorted(shipped_folder().glob("*.toml"), key=lambda path: path.stem)
        places.append([Held(OWNER, path) for path in shipped_files])
        if self._beside:
            known = {folded(held.name) for one in places for held in one}
            near = self._beside.presets
            places.insert(0, [x for x in near if folded(x.name) not in known or not x.has_pages()])
        return stacked("preset", *(map(entry, one) for one in places))

    def _layouts(self) -> Iterable[Entry[Layout]]:
        folders = [*([self._beside] if self._beside else []), *self._folders]
        places = [[*one.layout_entries(self._tell)] for one in folders]
        places += [[*self.brought.layouts()], [*shipped().layouts.entries.values()]]
        return stacked("layout", *places)

    def _tell(self, warning: str) -> None:
        if warning not in self.warnings:
            self.warnings.append(warning)


def _with(ours: Registry[Thing], others: Callable[[], Iterable[Entry[Thing]]]) -> Registry[Thing]:
    """The same and those of plug-ins; a name that two have is refused where it is used."""

    def source() -> Iterable[Entry[Thing]]:
        return single(ours.kind, chain(ours.entries.values(), others())).values()

    return replace(ours, source=source)


def studio(issue: str | Path | None = None, *, plugins: bool = True) -> Studio:
    """What there is to name from an issue's file, by the maker's settings; raises `InputError`.

    With `plugins` false none is looked for.
    """
    return Studio(settings(), Path(issue) if issue is not None else None, plugins)
