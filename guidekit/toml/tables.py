"""Tables of one file laid over those of another."""

from __future__ import annotations

from typing import Any


def merged(base: dict[str, Any], changes: dict[str, Any]) -> dict[str, Any]:
    """The values of `base` with those of `changes` in their place, tables within tables too."""
    found = dict(base)
    for key, value in changes.items():
        old = base.get(key)
        if isinstance(value, dict) and isinstance(old, dict):
            value = merged(old, value)
        found[key] = value
    return found
