"""Functions and classes by where they are, so that no table has to load what it lists."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from importlib import import_module
from typing import Any

from guidekit.loading import load


@dataclass(frozen=True)
class Named:
    """A function or class by its `place`, ``package.module:name``; loaded at its first call.

    `heavy` says that large libraries come with it.
    """

    place: str
    heavy: bool = False

    def __call__(self, *given: Any) -> Any:
        """What the function makes of what is given."""
        return self.found(*given)

    @cached_property
    def found(self) -> Any:
        """The function itself."""
        module, _, name = self.place.partition(":")
        return getattr(load(module) if self.heavy else import_module(module), name)
