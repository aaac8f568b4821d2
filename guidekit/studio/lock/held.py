"""An issue is held to its lock: what is locked counts before all other of its name."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import NoReturn, TypeVar

from guidekit.errors import InputError, Problem, shown
from guidekit.issue.models.part import Layout
from guidekit.registry import Entry, Registry
from guidekit.shipped import FullCatalogue
from guidekit.studio.lock.model import FromPlugin, Lock, Locked
from guidekit.studio.lock.path import lock_path
from guidekit.toml import Origin, TomlFile, checked

OWNER = "the lock"
Thing = TypeVar("Thing")


def with_lock(catalogue: FullCatalogue, lock: Lock, issue: Path) -> FullCatalogue:
    """The same, with what is locked in place of what has the same name.

    Of a guide or format that is not there, the plug-in is told that the lock names for it.
    """
    path = lock_path(issue)
    layouts = (_layout(name, one, path) for name, one in lock.layouts.items())
    return replace(
        catalogue,
        presets=catalogue.presets.shadowed_by(*_files(lock.presets, path)),
        layouts=catalogue.layouts.shadowed_by(*layouts),
        guides=_naming(catalogue.guides, lock.guides),
        writers=_naming(catalogue.writers, lock.formats),
        series=catalogue.series.shadowed_by(*_files(lock.series, path)),
    )


def _files(locked: dict[str, Locked], path: Path) -> Iterator[Entry[TomlFile]]:
    for name, one in locked.items():
        yield Entry.of(name, OWNER, TomlFile(path, b"", one.values))


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
