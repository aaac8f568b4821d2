"""The lock of an issue as it is to be, and put beside it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from guidekit.errors import MachineError
from guidekit.plugins.installed import Plugin
from guidekit.store.files import part_of, state_of, write_whole
from guidekit.studio.lock.model import FromPlugin, Lock, Locked, as_locked, lock_text
from guidekit.studio.lock.path import lock_path
from guidekit.studio.lock.used import Used


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
