"""Named layouts: panel arrangements kept as data, shipped in ``presets/layouts/*.toml``.

An issue may define its own under ``[layouts.NAME]``.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache

from guidekit.errors import InputError, Problem, nearest, one_of
from guidekit.issue.model import Layout
from guidekit.preset.registry import shipped_folder
from guidekit.toml_file import checked, read_toml


@cache  # what comes with guidekit never changes while it runs
def shipped_layouts() -> dict[str, Layout]:
    """All layouts that come with guidekit, by name; one table a layout."""
    found: dict[str, Layout] = {}
    for path in sorted((shipped_folder() / "layouts").glob("*.toml")):
        for name, table in read_toml(path).items():
            if name in found:
                where = f"{path.name}: {name}"
                raise InputError(Problem(where, "the layout is there already", "each name once"))
            found[name] = checked(Layout, table, f"{path.name}: {name}")
    return found


@dataclass(frozen=True)
class Layouts:
    """The layouts an issue may name: its own first, then those that come with guidekit."""

    own: dict[str, Layout] = field(default_factory=dict)

    def find(self, name: str, where: str) -> Layout:
        """The layout called `name`; raises `InputError` led by `where` with the nearest name."""
        if name in self.own:
            return self.own[name]
        known = shipped_layouts()
        if name not in known:
            names = [*self.own, *known]
            allowed = f"{one_of(names)}" if len(names) < 12 else "see guidekit layouts list"
            raise InputError(
                Problem(where, f'there is no layout "{name}"', allowed, nearest(name, names))
            )
        return known[name]
