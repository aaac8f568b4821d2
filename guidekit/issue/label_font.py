"""Where a font for labels is looked for: beside the issue, beside its presets, on the system.

In the issue's and the presets' folders by its path from there; among the system's fonts by the
name of its file, then by the name of its family, of which the most regular font is taken. What
lies elsewhere is not opened.
"""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial
from os.path import normpath
from pathlib import Path

from guidekit.errors import InputError, Key, Problem, shown
from guidekit.patience import answered
from guidekit.raster.font import FontFile

SUFFIXES = {".ttf", ".otf", ".ttc", ".otc"}


def find_font(name: str, folders: Sequence[Path], key: Key) -> FontFile:
    """The font called `name`, ready to draw with; raises `InputError`, `MachineError`.

    `folders` are that of the issue and those of its presets, `key` leads to where it is named.
    """
    from guidekit.raster.face import opened

    doing, system = f"reading the font {shown(name)}", system_folders()
    font = answered(doing, partial(_beside, name, folders))
    font = font or _beside(name, system) or _of_system(name, system)
    if not font:
        places = ", ".join(["the issue's folder", *map(normpath, (*folders[1:], *system))])
        allowed = (
            "the path of a font file from the issue's or a preset's folder, or the name of a "
            "file or family among the system's fonts"
        )
        raise InputError(Problem(key, f"there is no font {shown(name)} in {places}", allowed))
    try:
        answered(doing, partial(opened, font))
    except InputError as error:
        problems = (replace(problem, key=key, file=None) for problem in error.problems)
        raise InputError(problems) from None
    return font


def system_folders() -> tuple[Path, ...]:
    """Where the system keeps fonts, the user's own in front."""
    home = Path.home()
    if sys.platform == "darwin":
        return (home / "Library/Fonts", Path("/Library/Fonts"), Path("/System/Library/Fonts"))
    if sys.platform == "win32":
        local = Path(os.environ.get("LOCALAPPDATA", home / "AppData/Local"))
        windows = Path(os.environ.get("WINDIR", "C:/Windows"))
        return (local / "Microsoft/Windows/Fonts", windows / "Fonts")
    own = os.environ.get("XDG_DATA_HOME") or home / ".local/share"  # XDG Base Directory 0.8
    shared = os.environ.get("XDG_DATA_DIRS") or "/usr/local/share:/usr/share"
    return tuple(Path(folder) / "fonts" for folder in (own, *shared.split(":")))


def _beside(name: str, folders: Sequence[Path]) -> FontFile | None:
    """The file at a path that stays in one of the folders."""
    for folder in folders:
        path = Path(normpath(folder / name))
        if path.is_relative_to(normpath(folder)) and path.is_file():
            return FontFile(str(path))
    return None


def _of_system(name: str, folders: Sequence[Path]) -> FontFile | None:
    from guidekit.raster.face import in_file

    wanted = name.casefold()
    files = [path for folder in folders for path in _fonts_in(folder)]
    if named := [path for path in files if path.name.casefold() == wanted]:
        return FontFile(str(named[0]))
    family = [
        (unlike, font)
        for path in files
        for font, names, unlike in in_file(str(path))
        if wanted in {own.casefold() for own in names}
    ]
    return min(family)[1] if family else None


def _fonts_in(folder: Path) -> Iterator[Path]:
    for where, folders, names in os.walk(folder):
        folders.sort()
        yield from (
            Path(where, name) for name in sorted(names) if Path(name).suffix.lower() in SUFFIXES
        )
