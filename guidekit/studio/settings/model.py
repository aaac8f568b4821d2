"""The settings file as it is checked; loaded only where there is one."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, ClassVar

from guidekit.toml import Model, Origin, checked, read_toml
from guidekit.toml.model import Name, at_most

FEW = at_most(100)


class Config(Model):
    """What a maker sets once: the folders of the studio, and the plug-ins that may run."""

    example: ClassVar = {"studio_folders": ["/mnt/studio/formats"], "plugins": ["postcards"]}

    studio_folders: Annotated[tuple[Name, ...], FEW] = ()
    plugins: Annotated[tuple[Name, ...] | None, FEW] = None


def read_config(path: Path) -> Config:
    """The settings in a file; raises `InputError` with every mistake and its line."""
    file = read_toml(path)
    return checked(Config, file.values, Origin(file))
