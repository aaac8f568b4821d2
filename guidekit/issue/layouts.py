"""Named layouts: panel arrangements kept as data in ``presets/layouts/*.toml``."""

from __future__ import annotations

from functools import cache

from guidekit.errors import InputError, Problem, nearest, one_of
from guidekit.issue.model import Part
from guidekit.preset.registry import shipped_folder
from guidekit.toml_file import checked, read_toml


class Layout(Part):
    """An arrangement of panels with a name, and a sentence on what it is for."""

    about: str


@cache
def shipped_layouts() -> dict[str, Layout]:
    """All layouts that come with guidekit, by name; one table a layout."""
    found = {}
    for path in sorted((shipped_folder() / "layouts").glob("*.toml")):
        for name, table in read_toml(path).items():
            found[name] = checked(Layout, table, f"{path.name}: {name}")
    return found


def layout(name: str, where: str) -> Layout:
    """The layout called `name`; raises `InputError` led by `where` with the nearest name."""
    known = shipped_layouts()
    if name not in known:
        raise InputError(
            Problem(where, f'there is no layout "{name}"', one_of(known), nearest(name, known))
        )
    return known[name]
