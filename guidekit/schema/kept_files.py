"""The schemas that come with guidekit, a file for each kind, at which an editor can be pointed."""

from __future__ import annotations

from pathlib import Path

from guidekit.errors import InputError
from guidekit.registry import unknown

FOLDER = Path(__file__).parent / "kept"


def schema_file(kind: str) -> Path:
    """The file with the schema of a kind of file; raises `InputError` for an unknown kind."""
    known = sorted(path.stem for path in FOLDER.glob("*.json"))
    if kind not in known:
        raise InputError(unknown("schema", kind, known, argument="kind"))
    return FOLDER / f"{kind}.json"
