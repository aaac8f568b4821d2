"""What is installed, what each brings, whether that loads, and how long it took."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from time import perf_counter
from typing import Any

from guidekit.errors import InputError
from guidekit.plugins.guard import guide_of, writer_of
from guidekit.plugins.installed import BroughtPart, Plugin
from guidekit.plugins.load import folder_of
from guidekit.registry import Entry, Registry, folded
from guidekit.registry.places import two_of

ONE = {"presets": "preset", "layouts": "layout", "guides": "guide", "writers": "format"}


def reported(
    plugins: Sequence[Plugin], allowed: Sequence[Plugin], ours: Iterable[Registry[Any]] = ()
) -> list[dict[str, Any]]:
    """A table for each plug-in with its ``parts``; those that are not allowed are not loaded.

    A part has its ``kind`` and ``name``, and a ``problem`` or the ``seconds`` that it took. A name
    that another has in the same place is a problem too; `ours` are things in that of plug-ins.
    """
    known = {
        (things.kind, folded(entry.name)): entry
        for things in ours
        for entry in things.entries.values()
    }
    return [
        {
            "name": plugin.name,
            "version": plugin.version,
            "about": plugin.about,
            "allowed": plugin in allowed,
            "parts": [
                row
                for part in plugin.parts
                for row in (_told(plugin, part, known) if plugin in allowed else [_named(part)])
            ],
        }
        for plugin in plugins
    ]


def _told(
    plugin: Plugin, part: BroughtPart, known: dict[tuple[str, str], Entry[Any]]
) -> Iterator[dict[str, Any]]:
    """What a part comes to; the first that has a name is `known` to those that come after it."""
    for row in _parts(plugin, part):
        entry = Entry.of(row["name"], str(plugin), row)
        first = known.setdefault((row["kind"], folded(entry.name)), entry)
        if first is not entry and "problem" not in row:
            row["problem"] = str(two_of(row["kind"], first, entry))
        yield row


def _named(part: BroughtPart, **more: Any) -> dict[str, Any]:
    return {"kind": ONE[part.kind], "name": part.name, **more}


def _parts(plugin: Plugin, part: BroughtPart) -> list[dict[str, Any]]:
    """What a part comes to: itself, or the presets or layouts of its folder."""
    begin = perf_counter()
    try:
        if part.kind == "guides":
            guide_of(plugin, part)
        elif part.kind == "writers":
            writer_of(plugin, part)
        else:
            names = _names_in(plugin, part)
            return [{"kind": ONE[part.kind], "name": name} for name in names]
    except InputError as error:
        return [_named(part, problem=str(error))]
    return [_named(part, seconds=round(perf_counter() - begin, 3))]


def _names_in(plugin: Plugin, part: BroughtPart) -> list[str]:
    from guidekit.issue.layouts import layouts_in
    from guidekit.preset import preset_files

    read = preset_files if part.kind == "presets" else layouts_in
    return [entry.name for entry in read(folder_of(plugin, part), str(plugin))]
