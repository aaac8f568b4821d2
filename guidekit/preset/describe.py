"""A preset's values for people: in their own units, in mm and px, and where each comes from."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from guidekit.preset.source import PresetSource, comments
from guidekit.toml.model import Model
from guidekit.units import Length, decimal


def summary(source: PresetSource) -> dict[str, Any]:
    """Name, title, size of the finished page and resolution."""
    preset = source.preset
    size = preset.page_size
    return {
        "name": source.name,
        "title": preset.title,
        "size": f"{decimal(size.width.value)} × {decimal(size.height.value)} {size.width.unit}",
        "dpi": preset.dpi,
    }


def described(source: PresetSource) -> list[dict[str, Any]]:
    """Every value: key, value as written, exact mm and px of a length, and its origin.

    The origin is the file and the comment behind the value there, or ``default``.
    """
    preset = source.preset
    files = {origin.file for origin in source.origins.values()}
    notes = {file: comments(file) for file in files if file}
    rows = []
    for key, value in _values(preset):
        if value is None or key in ("title", "about", "caution"):
            continue
        row = {"key": key, "value": _words(value), "from": "default"}
        if isinstance(value, Length):
            row["mm"] = decimal(value.mm(preset.dpi), 3)
            row["px"] = decimal(value.px(preset.dpi), 2)
        if (origin := source.origins.get(key)) and (file := origin.file):
            note = notes[file].get(key) or notes[file].get(key.partition(".")[0], "")
            row["from"] = f"{file.path.name}: {note}" if note else file.path.name
        rows.append(row)
    return rows


def _values(model: Model, prefix: str = "") -> Iterator[tuple[str, Any]]:
    for key in type(model).model_fields:
        value = getattr(model, key)
        if isinstance(value, Model):
            yield from _values(value, f"{prefix}{key}.")
        elif isinstance(value, dict):
            yield from ((f"{prefix}{key}.{name}", item) for name, item in value.items())
        else:
            yield prefix + key, value


def _words(value: object) -> str:
    if isinstance(value, (tuple, list)):
        return ", ".join(map(str, value))
    return str(value).lower() if isinstance(value, bool) else str(value)
