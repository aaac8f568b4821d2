"""A good preset as text, to be spoiled, and what is said of one."""

from pathlib import Path

import pytest

from guidekit.errors import InputError
from support.catalogue import preset_source

GOOD = {
    "title": '"Mine"',
    "dpi": "300",
    "trim": '{ width = "100 mm", height = "200 mm" }',
    "gutter": '"4 mm"',
    "border": '"1 mm"',
    "lettering": '{ capitals = "2 mm", space = "1 mm" }',
    "drawing": '["Inks"]',
}


def page(**changes: str | None) -> str:
    """A good preset as TOML text with some values changed or, if `None`, left out."""
    return "\n".join(f"{k} = {v}" for k, v in (GOOD | changes).items() if v is not None)


def message(folder: Path, content: str | bytes, name: str = "mine.toml") -> str:
    """What `InputError` says of a preset file with this content."""
    data = content.encode() if isinstance(content, str) else content
    (folder / "mine.toml").write_bytes(data)
    with pytest.raises(InputError) as caught:
        _ = preset_source(name, folder).preset
    return str(caught.value)
