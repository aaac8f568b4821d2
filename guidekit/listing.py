"""What there is to choose from, one row each: presets with their sizes, layouts with their panels.

To read and check all that comes with guidekit takes longer than to start. So its rows are kept
beside it in ``listed.json``, with the digest of the files of which they were made; as soon as a
byte of those differs, they are read and checked again.
"""

from __future__ import annotations

import json
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any

from guidekit.shipped import FullCatalogue, shipped, shipped_folder

if TYPE_CHECKING:
    from guidekit.issue.layouts import Layouts

ListedRows = dict[str, list[dict[str, Any]]]


def shipped_rows(folder: Path | None = None) -> ListedRows:
    """The rows of all ``presets`` and ``layouts`` that come with guidekit.

    `folder` is where the rows are kept and what they were made of lies. Raises `InputError` where
    something in it is wrong.
    """
    folder = folder or shipped_folder()
    try:
        kept: dict[str, Any] = json.loads((folder / "listed.json").read_text("utf-8"))
    except FileNotFoundError:
        kept = {}
    return kept if kept.get("sha256") == folder_digest(folder) else rows_of(shipped())


def rows_of(catalogue: FullCatalogue) -> ListedRows:
    """The rows of all presets, by name, and of all layouts, by number of panels."""
    from guidekit.preset import find_preset
    from guidekit.preset.describe import summary

    rows = [row_of_layout(name, catalogue.layouts) for name in catalogue.layouts]
    rows.sort(key=lambda row: (row["panels"], row["spread"], row["name"]))
    presets = [summary(find_preset(name, catalogue)) for name in catalogue.presets]
    return {"presets": presets, "layouts": rows}


def row_of_layout(name: str, layouts: Layouts) -> dict[str, Any]:
    """The row of one layout; `layouts` are those that it may name. Raises `InputError`."""
    from guidekit.issue.reading import number_of_panels

    layout = layouts.find(name)
    panels = number_of_panels(layout, layouts)
    return {"name": name, "panels": panels, "spread": layout.spread, "about": layout.about}


def folder_digest(folder: Path) -> str:
    """SHA-256 of the names and bytes of all presets and layouts in a folder, in hexadecimal."""
    digest = sha256()
    for path in sorted([*folder.glob("*.toml"), *folder.glob("layouts/*.toml")]):
        data = path.read_bytes()
        digest.update(f"{path.relative_to(folder).as_posix()} {len(data)}\n".encode() + data)
    return digest.hexdigest()


def text_to_keep(folder: Path, catalogue: FullCatalogue) -> str:
    """The rows as they are kept: JSON with one row a line."""
    parts = [f'"sha256": "{folder_digest(folder)}"']
    for kind, rows in rows_of(catalogue).items():
        lines = ",\n".join(f"  {json.dumps(row, ensure_ascii=False)}" for row in rows)
        parts.append(f'"{kind}": [\n{lines}\n]')
    return "{" + ",\n ".join(parts) + "}\n"
