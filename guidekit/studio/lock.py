"""What an issue uses is written beside it, and used from there until that is moved on.

With its lock an issue is the same on every machine, whatever the studio's format has become since.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple, NoReturn, TypeVar

from guidekit.errors import InputError, MachineError, Problem, shown
from guidekit.geometry.page import PagePlan
from guidekit.geometry.plan import plan_issue
from guidekit.issue import LoadedIssue
from guidekit.issue.layouts import Layouts
from guidekit.issue.models.part import Layout
from guidekit.issue.series import shared
from guidekit.measure import load_issue
from guidekit.plugins.installed import Plugin
from guidekit.preset import find_preset
from guidekit.registry import Entry, Registry
from guidekit.shipped import FullCatalogue
from guidekit.store.files import part_of, state_of, write_whole
from guidekit.studio.lock_model import FromPlugin, Lock, Locked, LockedFont, as_locked, lock_text
from guidekit.studio.places import lock_path
from guidekit.toml import Origin, TomlFile, checked

if TYPE_CHECKING:
    from guidekit.studio.catalogue import Studio

OWNER = "the lock"
Thing = TypeVar("Thing")


def with_lock(catalogue: FullCatalogue, lock: Lock, issue: Path) -> FullCatalogue:
    """The same, with what is locked in place of what has the same name.

    Of a guide or format that is not there, the plug-in is told that the lock names for it.
    """
    path = lock_path(issue)
    presets = (
        Entry.of(name, OWNER, TomlFile(path, b"", one.values)) for name, one in lock.presets.items()
    )
    layouts = (_layout(name, one, path) for name, one in lock.layouts.items())
    series = [
        Entry.of(name, OWNER, TomlFile(path, b"", one.values)) for name, one in lock.series.items()
    ]
    return replace(
        catalogue,
        presets=catalogue.presets.shadowed_by(*presets),
        layouts=catalogue.layouts.shadowed_by(*layouts),
        guides=_naming(catalogue.guides, lock.guides),
        writers=_naming(catalogue.writers, lock.formats),
        series=catalogue.series.shadowed_by(*series),
    )


def _layout(name: str, one: Locked, path: Path) -> Entry[Layout]:
    make = partial(
        checked, Layout, one.values, Origin(TomlFile(path, b"", {name: one.values}), (name,))
    )
    return Entry(name, OWNER, make, written=one.values)


def _naming(registry: Registry[Thing], named: dict[str, FromPlugin]) -> Registry[Thing]:
    """The same, and for each name that nothing has what is to be installed for it."""

    def missing(name: str, source: FromPlugin) -> Entry[Thing]:
        def refuse() -> NoReturn:
            came = f"the {registry.kind} {shown(name)} is not here"
            plugin = f"{source.plugin} {source.version}"
            todo = f"Install the plug-in {plugin}, which the lock names for it."
            raise InputError(Problem((), came, todo=todo))

        return Entry(name, str(source.plugin), refuse, on_request=True)

    def source() -> list[Entry[Thing]]:
        there = registry.entries
        return [*there.values(), *(missing(n, x) for n, x in named.items() if n not in there)]

    return replace(registry, source=source)


@dataclass(frozen=True)
class Used:
    """What an issue uses: its canvases, its preset, and all else by name."""

    issue: LoadedIssue
    plans: tuple[PagePlan, ...]
    preset: dict[str, Any]
    layouts: dict[str, dict[str, Any]]
    series: dict[str, dict[str, Any]]
    fonts: dict[str, LockedFont]
    guides: tuple[str, ...]


def used_by(path: Path, catalogue: FullCatalogue) -> Used:
    """What an issue uses of a catalogue; raises `InputError`."""
    layouts: dict[str, dict[str, Any]] = {}
    issue = load_issue(
        path, catalogue=replace(catalogue, layouts=_heard(catalogue.layouts, layouts))
    )
    plans = plan_issue(issue)
    source = find_preset(issue.preset_name, catalogue, path.parent)
    guides = {name for plan in plans for name, state in plan.guides if state != "off"}
    requested = (x.name for x in catalogue.guides.entries.values() if x.on_request)
    name, file = issue.issue.series, issue.series
    series = {name: shared(file)} if name and file else {}
    used = tuple(x for x in requested if x in guides)
    return Used(issue, plans, source.plain, layouts, series, _fonts(issue), used)


def _fonts(issue: LoadedIssue) -> dict[str, LockedFont]:
    """The fonts of labels and of printed page numbers, as the issue names them."""
    folios = issue.issue.folios
    named = ((issue.issue.label_font, issue.font), (folios and folios.font, issue.folio_font))
    return {name: _locked_font(Path(font.path)) for name, font in named if name and font}


def _locked_font(path: Path) -> LockedFont:
    try:
        digest = sha256(path.read_bytes()).hexdigest()
    except OSError as error:
        raise MachineError.from_os(f"reading {path}", error) from None
    return LockedFont(file=path.name, sha256=digest)


def _heard(layouts: Layouts, used: dict[str, dict[str, Any]]) -> Layouts:
    """The same layouts; those that are used are noted with what their files say."""

    def noted(entry: Entry[Layout]) -> Layout:
        used[entry.name] = {**entry.written}
        return entry.thing

    entries = [replace(x, make=partial(noted, x)) for x in layouts.entries.values()]
    return replace(layouts, source=lambda: entries)


class Locking(NamedTuple):
    """The lock of an issue: where it lies, what it says, whether that is new, and of what it is."""

    path: Path
    lock: dict[str, Any]
    is_new: bool
    used: Used


def lock_issue(
    issue: str | Path,
    *,
    formats: Sequence[str] = ("psd",),
    update: bool = False,
    known: Studio | None = None,
) -> Locking:
    """Write what an issue uses beside it; what is locked already stays, unless with `update`.

    `formats` are those that it is built in, `known` is what there is to name, by default that of
    the maker's settings. Raises `InputError`, `MachineError`.
    """
    from guidekit.studio.catalogue import studio  # which uses this module

    known = known or studio(issue)
    known = known.unlocked() if update else known
    path = known.issue or Path(issue)
    used = used_by(path, known.catalogue)
    lock = new_lock(used, known.brought.plugins, formats, known.lock)
    return Locking(lock_path(path), lock, write_lock(path, lock), used)


def new_lock(
    used: Used, plugins: Sequence[Plugin], formats: Sequence[str], before: Lock | None = None
) -> dict[str, Any]:
    """What a lock of these things says; what is locked `before` stays as it is.

    `formats` are those that the issue is built in.
    """

    def kept(kind: str, values: dict[str, dict[str, Any]]) -> dict[str, Any]:
        old: dict[str, Locked] = getattr(before, kind) if before else {}
        return {name: vars(old.get(name) or as_locked(one)) for name, one in values.items()}

    def sources(kind: str, names: Sequence[str], already: str) -> dict[str, Any]:
        old: dict[str, FromPlugin] = getattr(before, already) if before else {}
        found = {part.name: plugin for plugin in plugins for part in plugin.of(kind)}
        new = {
            n: {"plugin": found[n].name, "version": found[n].version} for n in names if n in found
        }
        return {name: vars(old[name]) if name in old else one for name, one in new.items()}

    fonts = before.fonts if before else {}
    formats = [*formats, *(before.formats if before else ())]
    return {
        "version": 1,
        "issue": used.issue.path.name,
        "presets": kept("presets", {used.issue.preset_name: used.preset}),
        "layouts": kept("layouts", used.layouts),
        "series": kept("series", used.series),
        "fonts": {name: vars(fonts.get(name, one)) for name, one in used.fonts.items()},
        "guides": sources("guides", used.guides, "guides"),
        "formats": sources("writers", formats, "formats"),
    }


def write_lock(issue: Path, lock: dict[str, Any]) -> bool:
    """Put a lock beside an issue, whole or not at all; False if it is there already as it is."""
    path, text = lock_path(issue), lock_text(lock)
    try:
        state = state_of(path)
        if state and path.is_file() and path.read_bytes() == text:
            return False
        if not write_whole(path, [text], part_of(path), state):
            raise MachineError(f"{path} changed in this moment. Run it again.")
    except OSError as error:
        raise MachineError.from_os(f"writing {path}", error) from None
    return True
