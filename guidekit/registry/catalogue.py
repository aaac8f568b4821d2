"""Everything that an issue can name, as one value that goes through all stages."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import Generic, TypeVar

from guidekit.registry.registry import Registry

Layout = TypeVar("Layout")
Guide = TypeVar("Guide")
Writer = TypeVar("Writer")


@dataclass(frozen=True)
class Catalogue(Generic[Layout, Guide, Writer]):
    """The presets, as the files that hold them, and the layouts, guides and writers there are."""

    presets: Registry[Path]
    layouts: Registry[Layout]
    guides: Registry[Guide]
    writers: Registry[Writer]
