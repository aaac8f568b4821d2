"""Where the lock of an issue lies."""

from __future__ import annotations

from pathlib import Path


def lock_path(issue: Path) -> Path:
    """Where the lock of an issue lies: ``salt-road.lock.json`` beside ``salt-road.toml``."""
    return issue.with_suffix(".lock.json")
