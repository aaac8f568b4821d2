"""Which packages that add to guidekit are installed, found without running any of their code.

To load the standard library's reader of installed packages takes a third of guidekit's start. So
the folders of packages are looked through first, and only those that name a group of ours are read.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import NamedTuple

GROUPS = ("presets", "layouts", "guides", "writers")
PREFIX = "guidekit."


class BroughtPart(NamedTuple):
    """One thing that a plug-in says it brings: its kind, its name, and where it is.

    The kind is one of `GROUPS`. `place` is ``package.module:name``, or a folder as
    ``package.folder`` for presets and layouts.
    """

    kind: str
    name: str
    place: str


class Plugin(NamedTuple):
    """An installed package with an entry point of ours, and what it says of itself."""

    name: str
    version: str
    about: str
    parts: tuple[BroughtPart, ...]

    def __str__(self) -> str:
        return f"{self.name} {self.version}"

    def of(self, kind: str) -> Iterator[BroughtPart]:
        """What it brings of one kind."""
        return (part for part in self.parts if part.kind == kind)


def installed(path: Sequence[str] | None = None) -> tuple[Plugin, ...]:
    """All plug-ins by name; `path` are folders of packages, by default those Python looks in.

    Of a package that is there twice the first is meant, as with everything that Python imports.
    """
    found: dict[str, Plugin] = {}
    for folder in _folders(sys.path if path is None else path):
        plugin = _read(folder)
        found.setdefault(plain(plugin.name), plugin)
    return tuple(found[name] for name in sorted(found))


def plain(name: str) -> str:
    """The same for all spellings of a package's name (PyPA, Names and normalization)."""
    return re.sub(r"[-_.]+", "-", name).lower()


def _folders(path: Sequence[str]) -> Iterator[Path]:
    """The folders with what packages tell of themselves, of those that name a group of ours."""
    for place in dict.fromkeys(path):
        try:
            folders = sorted(Path(place or ".").iterdir())
        except OSError:  # nothing, an archive, or closed to us
            continue
        for folder in folders:
            if folder.suffix in (".dist-info", ".egg-info") and _names_a_group(folder):
                yield folder


def _names_a_group(folder: Path) -> bool:
    try:
        return f"[{PREFIX}".encode() in (folder / "entry_points.txt").read_bytes()
    except OSError:
        return False


def _read(folder: Path) -> Plugin:
    from importlib.metadata import PathDistribution

    told = PathDistribution(folder)
    try:
        about = told.metadata
        parts = tuple(
            BroughtPart(group, point.name, point.value)
            for group in GROUPS
            for point in told.entry_points.select(group=PREFIX + group)
        )
    except (OSError, ValueError, TypeError) as error:  # half an installation; it brings nothing
        name, _, version = folder.stem.partition("-")
        reason = "an entry point has no =" if isinstance(error, TypeError) else error
        return Plugin(name, version or "?", f"This package is not whole: {reason}", ())
    told_of = {key: about[key] for key in ("Name", "Version", "Summary") if key in about}
    name = told_of.get("Name") or folder.name.partition("-")[0]
    return Plugin(name, told_of.get("Version", "?"), told_of.get("Summary", ""), parts)
