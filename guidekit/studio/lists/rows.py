"""What lists show: all presets with their sizes, all layouts, where each is from and what it hides.

A studio may have thousands of presets. So no file is checked here, and of most only those lines
are read as TOML that a list shows.
"""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidekit.errors import InputError, MachineError, WrongValueError, shown
from guidekit.listing import row_of_layout, shipped_rows
from guidekit.registry import Entry, folded
from guidekit.shipped import OWNER
from guidekit.studio.places.held import Held
from guidekit.studio.places.place import BESIDE
from guidekit.units import Length, size_text

if TYPE_CHECKING:
    from guidekit.studio.catalogue import Studio

Row = dict[str, Any]
LONGEST_CHAIN = 20
MOST_NESTED = 50  # dots and brackets in lines that tomllib reads without a look at them
SCALARS = (("title", str, "text in quotes"), ("dpi", int, "a whole number"))
_SHOWN = re.compile(rb"^(?:title|dpi|trim|scroll|based_on)[ \t.=][^\n]*", re.MULTILINE)
_TABLE = re.compile(rb"^[ \t]*\[", re.MULTILINE)
_SIZE_TABLE = re.compile(rb"^[ \t]*\[[ \t]*(?:trim|scroll)\b", re.MULTILINE)


def preset_rows(studio: Studio) -> list[Row]:
    """Every preset that counts, the nearest place first; a wrong one has a ``problem``."""
    return _Presets(studio).rows()


class _Presets:
    """All presets by name, and the rows of those that come with guidekit."""

    def __init__(self, studio: Studio):
        self.entries = {folded(entry.name): entry for entry in studio.held_presets()}
        self.ours = {row["name"]: row for row in shipped_rows()["presets"]}

    def rows(self) -> list[Row]:
        """All but files beside an issue that are issues themselves."""
        every = self.entries.values()
        return [self.row(x) for x in every if x.owner != BESIDE or not x.thing.has_pages()]

    def row(self, entry: Entry[Held]) -> Row:
        row: Row = {"name": entry.name, "title": "", "size": "", "dpi": None}
        try:
            row |= self.seen(entry.thing)
        except (InputError, MachineError, ValueError, OSError) as error:
            row["problem"] = str(error)
        return row | _from(entry)

    def seen(self, held: Held, depth: int = 0) -> Row:
        """Title, size and resolution of a preset: its own, or those of what it is based on."""
        if held.owner == OWNER:
            return self.ours[held.name]
        values = glance(held.text(), held.path)
        based_on = values.get("based_on")
        below = self.below(based_on, held, depth) if isinstance(based_on, str) else {}
        row = below | _scalars(values)
        size = values.get("trim") or values.get("scroll") or {}
        if isinstance(size, dict) and "width" in size:
            height = size.get("height", size.get("canvas_height"))
            row["size"] = size_text(Length.parse(size["width"]), Length.parse(height))
        return {key: row[key] for key in ("title", "size", "dpi") if key in row}

    def below(self, name: str, held: Held, depth: int) -> Row:
        """What a preset takes over; nothing from one that is not there, as its own check tells."""
        if depth >= LONGEST_CHAIN:
            return {}
        if name.endswith(".toml"):
            return self.seen(replace(held, path=held.path.parent / name, packed=None), depth + 1)
        entry = self.entries.get(folded(name))
        while entry and entry.shadows and entry.thing.path == held.path:
            entry = entry.shadows
        return self.seen(entry.thing, depth + 1) if entry else {}


def _scalars(values: dict[str, Any]) -> Row:
    """Title and resolution, as far as they are there; raises `WrongValueError`."""
    for key, kind, allowed in SCALARS:
        if key in values and type(values[key]) is not kind:
            raise WrongValueError(f"{key}: {shown(values[key])} is not {allowed}", allowed)
    return {key: values[key] for key, _, _ in SCALARS if key in values}


def glance(text: bytes, path: Path = Path("the preset")) -> dict[str, Any]:
    """What a preset's file says of itself in a list; raises `ValueError` for what is no TOML.

    The lines are read alone that a list shows, where that is sure to be the same as all of it.
    """
    head = _TABLE.split(text, maxsplit=1)[0]
    plain = b'"""' not in head and b"'''" not in head and not _SIZE_TABLE.search(text)
    lines = b"\n".join(_SHOWN.findall(head)) if plain else b""
    if lines and sum(map(lines.count, (b".", b"[", b"{"))) <= MOST_NESTED:
        import tomllib  # most makers have no preset but the shipped ones

        try:
            return tomllib.loads(lines.decode())
        except ValueError:
            pass  # a value of several lines
    from guidekit.toml import toml_in

    try:
        return toml_in(path, text).values
    except InputError as error:
        raise ValueError(str(error)) from None


def layout_rows(studio: Studio) -> list[Row]:
    """Every layout that counts, by number of panels; ``problem`` tells of wrong ones."""
    ours = [{**row, "from": OWNER} for row in shipped_rows()["layouts"]]
    if not studio.has_layouts():
        return ours
    known = {row["name"]: row for row in ours}
    rows = []
    for entry in studio.catalogue.layouts.entries.values():
        if entry.owner.startswith(f"{OWNER},"):
            rows.append(known[entry.name])
            continue
        try:
            row = row_of_layout(entry.name, studio.catalogue.layouts)
        except InputError as error:
            row = {"name": entry.name, "panels": 0, "spread": False, "about": ""}
            row["problem"] = str(error)
        rows.append(row | _from(entry))
    return sorted(rows, key=lambda row: (row["panels"], row["spread"], row["name"]))


def _from(entry: Entry[Any]) -> Row:
    """Where a thing is from, and whose it hides."""
    shadows, behind = [], entry.shadows
    while behind:
        shadows.append(behind.owner)
        behind = behind.shadows
    return {"from": entry.owner, **({"shadows": shadows} if shadows else {})}
