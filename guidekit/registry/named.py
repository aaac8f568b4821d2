"""Functions and classes by where they are, so that no table has to load what it lists."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from importlib import import_module
from typing import Any


@dataclass(frozen=True)
class Named:
    """A function or class by its `place`, ``package.module:name``; loaded at its first call."""

    place: str

    def __call__(self, *given: Any) -> Any:
        """What the function makes of what is given."""
        return self.found(*given)

    @cached_property
    def found(self) -> Any:
        """The function itself."""
        module, _, name = self.place.partition(":")
        return getattr(import_module(module), name)
