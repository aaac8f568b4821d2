"""The page format of an issue as plain data: its values, where from, and what the issue changes."""

from __future__ import annotations

from typing import Any

from guidekit.errors import InputError, Problem
from guidekit.planner.draft import Draft
from guidekit.planner.picture import Data
from guidekit.preset.describe import described
from guidekit.preset.source import find_preset
from guidekit.studio.catalogue import Studio
from guidekit.toml.file import Origin


def format_data(book: Draft, studio: Studio) -> Data:
    """Each value of the format, the ``own`` ones of the issue as written, and how they differ.

    ``moved_on`` is what has changed elsewhere since the issue was locked. Raises `InputError`.
    """
    from guidekit.studio.difference import preset_differences  # for one window alone

    loaded = book.loaded
    if not loaded:
        raise InputError(Problem((), "the file cannot be read"))
    source = find_preset(loaded.preset_name, studio.catalogue, loaded.path.parent, Origin())
    return {
        "values": described(source),
        "own": _leaves(loaded.issue.format),
        "differs": [*preset_differences(source.preset, loaded.preset)],
        "moved_on": studio.since_lock(),
    }


def _leaves(values: dict[str, Any], prefix: str = "") -> dict[str, str]:
    found: dict[str, str] = {}
    for key, value in values.items():
        if isinstance(value, dict):
            found |= _leaves(value, f"{prefix}{key}.")
        else:
            found[prefix + key] = str(value)
    return found
