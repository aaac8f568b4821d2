"""Named layouts: panel arrangements kept as data, shipped in ``presets/layouts/*.toml``.

An issue may define its own under ``[layouts.NAME]``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache

from guidekit.errors import InputError, Key, Problem, nearest, shown
from guidekit.issue.model import Layout
from guidekit.preset.registry import shipped_folder
from guidekit.toml.file import Origin, located, read_toml
from guidekit.toml.model import checked


@cache  # what comes with guidekit never changes while it runs
def shipped_layouts() -> dict[str, Layout]:
    """All layouts that come with guidekit, by name; one table a layout."""
    found: dict[str, Layout] = {}
    for path in sorted((shipped_folder() / "layouts").glob("*.toml")):
        file = read_toml(path)
        for name, table in file.values.items():
            if name in found:
                problem = Problem((name,), "this layout is there already", "each name once")
                raise InputError(located([problem], Origin(file)))
            found[name] = checked(Layout, table, Origin(file, (name,)))
    return found


@dataclass(frozen=True)
class Layouts:
    """The layouts an issue may name: its own first, then those that come with guidekit."""

    own: dict[str, Layout] = field(default_factory=dict)

    def find(self, name: str, key: Key = ()) -> Layout:
        """The layout called `name`; raises `InputError` with the nearest name.

        `key` leads to where it is named.
        """
        if name in self.own:
            return self.own[name]
        known = shipped_layouts()
        if name not in known:
            names = [*self.own, *known]
            came, allowed = f"there is no layout {shown(name)}", "the name of a layout"
            todo = nearest(name, names) or f"Write {allowed}; guidekit layouts list shows them."
            if name.isdecimal():
                came = f"{shown(name)} is text, and no layout is called that"
                todo = f"Write {name}, without quotes."
            raise InputError(Problem(key, came, allowed, todo))
        return known[name]
