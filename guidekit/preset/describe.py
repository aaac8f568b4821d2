"""A preset's values for people: in their own units, in mm and px, and where each comes from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from guidekit.preset.source import PresetSource, comments
from guidekit.toml.model import Model
from guidekit.units import Length, decimal, size_text


def summary(source: PresetSource) -> dict[str, Any]:
    """Name, title, size of the finished page and resolution."""
    preset = source.preset
    size = preset.page_size
    return {
        "name": source.name,
        "title": preset.title,
        "size": size_text(size.width, size.height),
        "dpi": preset.dpi,
    }


def described(source: PresetSource) -> list[dict[str, Any]]:
    """Every value: key, value as written, exact mm and px of a length, and its origin.

    The origin is the file and the comment behind the value there, or ``default``.
    """
    preset = source.preset
    files = {origin.file for origin in source.origins.values()}
    notes = {file: comments(file) for file in files if file}
    names = _called(source)
    rows = []
    for key, value in values_of(preset):
        if value is None or key in ("title", "about", "caution"):
            continue
        row = {"key": key, "value": in_words(value), "from": "default"}
        if isinstance(value, Length):
            row["mm"] = decimal(value.mm(preset.dpi), 3)
            row["px"] = decimal(value.px(preset.dpi), 2)
        if (origin := source.origins.get(key)) and (file := origin.file):
            note = notes[file].get(key) or notes[file].get(key.partition(".")[0], "")
            place = names[file.path]
            row["from"] = f"{place}: {note}" if note else place
        rows.append(row)
    return rows


def chain_of(source: PresetSource) -> list[dict[str, str]]:
    """The preset and those that it is based on: name, who brought it, and its file."""
    return [
        {"name": link.name, "from": link.owner or "a file", "file": str(link.file.path)}
        for link in source.chain
    ]


def _called(source: PresetSource) -> dict[Path, str]:
    """What each file of the chain is called: its name, and who brought it where that is needed."""
    count = Counter(link.file.path.name for link in source.chain)
    return {
        path: f"{path.name} ({link.owner})" if count[path.name] > 1 and link.owner else path.name
        for link in source.chain
        for path in [link.file.path]
    }


def values_of(model: Model, prefix: str = "") -> Iterator[tuple[str, Any]]:
    """Every single value of a preset with its dotted key, in the order of the model."""
    for key in type(model).model_fields:
        value = getattr(model, key)
        if isinstance(value, Model):
            yield from values_of(value, f"{prefix}{key}.")
        elif isinstance(value, dict):
            yield from ((f"{prefix}{key}.{name}", item) for name, item in value.items())
        else:
            yield prefix + key, value


def in_words(value: object) -> str:
    """A value as people read it."""
    if isinstance(value, (tuple, list)):
        return ", ".join(map(str, value))
    return str(value).lower() if isinstance(value, bool) else str(value)
