"""What differs between two page formats or two layouts, in words of the trade."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from guidekit.errors import shown
from guidekit.preset import Preset
from guidekit.preset.describe import in_words, values_of
from guidekit.units import Length


def preset_differences(old: Preset, new: Preset) -> Iterator[str]:
    """Each value that differs: ``gutter across 3 mm → 4 mm``; equal lengths do not."""
    before, after = dict(values_of(old)), dict(values_of(new))
    for key in dict.fromkeys((*before, *after)):
        one, other = before.get(key), after.get(key)
        if not _same(one, other):
            yield f"{_called(key)} {_told(one)} → {_told(other)}"


def layout_differences(old: dict[str, Any], new: dict[str, Any]) -> Iterator[str]:
    """Each key of the tables of two layouts whose values differ."""
    for key in dict.fromkeys((*old, *new)):
        if old.get(key) != new.get(key):
            before, after = (shown(x[key]) if key in x else "nothing" for x in (old, new))
            yield f"{_called(key)} {before} → {after}"


def _same(one: object, other: object) -> bool:
    if isinstance(one, Length) and isinstance(other, Length) and "px" not in (one.unit, other.unit):
        return one.px(1) == other.px(1)
    return one == other


def _called(key: str) -> str:
    return key.replace(".", " ").replace("_", " ")


def _told(value: object) -> str:
    return "nothing" if value is None or value == "" else in_words(value)
