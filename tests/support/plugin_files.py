"""Packages that add to guidekit, as files in a folder in which Python looks for packages."""

import os
from pathlib import Path

from support.samples import REPOSITORY

EXAMPLE = REPOSITORY / "examples" / "postcards"


def installed_plugin(site: Path, name: str, code: str, **parts: str) -> None:
    """A package of one module with this code, and the text that tells of its parts.

    Each of `parts` is a group without ``guidekit.``, with its lines ``name = place``.
    """
    site.mkdir(exist_ok=True)
    (site / f"{name}.py").write_text(code, "utf-8")
    groups = (f"[guidekit.{group}]\n{lines}\n" for group, lines in parts.items())
    told_by(site, name, "1.0", "\n".join(groups))


def told_by(site: Path, name: str, version: str, entry_points: str) -> None:
    """What an installer leaves of a package: its name, version and entry points."""
    info = site / f"{name}-{version}.dist-info"
    info.mkdir(parents=True)
    head = f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\nSummary: A guest\n"
    (info / "METADATA").write_text(head, "utf-8")
    (info / "entry_points.txt").write_text(entry_points, "utf-8")


def path_with(*sites: Path) -> str:
    """The PYTHONPATH of a process that sees these folders and this guidekit."""
    return os.pathsep.join([str(REPOSITORY), *map(str, sites)])
