"""The maker's settings: one small file in the platform's place, and one environment variable."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

APP = "guidekit"
CONFIG = "config.toml"
VARIABLE = "GUIDEKIT_STUDIO"  # folders, with what separates them in PATH; they come first


class Settings(NamedTuple):
    """The maker's own folder, those of the studio in their order, and the plug-ins that may run.

    `plugins` are names of packages; None lets all run that are installed.
    """

    own_folder: Path
    studio_folders: tuple[Path, ...] = ()
    plugins: frozenset[str] | None = None


def config_file() -> Path:
    """Where the settings are read from, whether they are there or not."""
    from platformdirs import user_config_path

    return user_config_path(APP, appauthor=False) / CONFIG


def settings(environ: Mapping[str, str] = os.environ) -> Settings:
    """The settings as they are now; raises `InputError` for a file with a mistake."""
    from platformdirs import user_data_path

    file = config_file()
    parts = environ.get(VARIABLE, "").split(os.pathsep)
    folders = [_at_home(Path(part)) for part in parts if part]
    plugins = None
    if file.exists():
        from guidekit.studio.settings.model import read_config

        config = read_config(file)
        folders += [file.parent / _at_home(Path(name)) for name in config.studio_folders]
        plugins = None if config.plugins is None else frozenset(config.plugins)
    own = user_data_path(APP, appauthor=False)
    return Settings(own, tuple(dict.fromkeys(folders)), plugins)


def _at_home(folder: Path) -> Path:
    try:
        return folder.expanduser()
    except RuntimeError:  # there is no such user
        return folder
