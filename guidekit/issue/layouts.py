"""Named layouts: panel arrangements kept as data, one table a layout in files of TOML.

An issue may define its own under ``[layouts.NAME]``; those count before others of their names.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from guidekit.issue.models.issue import Issue
from guidekit.issue.models.part import Layout
from guidekit.registry import Entry, Registry
from guidekit.toml.check import checked
from guidekit.toml.file import Origin, TomlFile, read_toml

Layouts = Registry[Layout]


def layouts_in(folder: Path, owner: str) -> Iterator[Entry[Layout]]:
    """The layouts in the files of a folder, each checked when it is used."""
    for path in sorted(folder.glob("*.toml")):
        yield from layouts_of(read_toml(path), owner)


def layouts_of(file: TomlFile, owner: str) -> Iterator[Entry[Layout]]:
    """The layouts in one file: each table is one, under its name."""
    for name, table in file.values.items():
        make = partial(checked, Layout, table, Origin(file, (name,)))
        yield Entry(name, f"{owner}, {file.path.name}", make, written=table)


def with_own(layouts: Layouts, issue: Issue, owner: str) -> Layouts:
    """The layouts that an issue may name: its own first."""
    own = (Entry.of(name, owner, layout) for name, layout in issue.layouts.items())
    return layouts.shadowed_by(*own)
