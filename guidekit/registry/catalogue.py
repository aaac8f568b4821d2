"""Everything that an issue can name, as one value that goes through all stages."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from guidekit.registry.registry import Registry

Preset = TypeVar("Preset")
Layout = TypeVar("Layout")
Guide = TypeVar("Guide")
Writer = TypeVar("Writer")


@dataclass(frozen=True)
class Catalogue(Generic[Preset, Layout, Guide, Writer]):
    """The presets, each as its file, and the layouts, guides and writers there are.

    `series` are files of series that count before those of the same path.
    """

    presets: Registry[Preset]
    layouts: Registry[Layout]
    guides: Registry[Guide]
    writers: Registry[Writer]
    series: Registry[Any] = field(default_factory=lambda: Registry("series", tuple))
