"""A new issue out of a script."""

from __future__ import annotations

from pathlib import Path

from guidekit.issue.start import new_issue
from guidekit.preset import find_preset
from guidekit.script.proposal import Proposal, proposed
from guidekit.script.reading import read_script
from guidekit.shipped import FullCatalogue, shipped


def issue_from_script(
    folder: Path,
    script: Path,
    *,
    preset: str,
    title: str | None = None,
    catalogue: FullCatalogue | None = None,
) -> tuple[Path, Proposal]:
    """Write a new issue file into `folder` with the pages of a script; its path, what to know.

    `title` is by default that of the script, else the folder's name. Raises `InputError` for what
    `new_issue` refuses and for a script without pages, `MachineError`.
    """
    catalogue = catalogue or shipped()
    read = read_script(script)
    page_format = find_preset(preset, catalogue).preset
    found = proposed(read, facing=page_format.facing, scroll=bool(page_format.scroll))
    path, _ = new_issue(
        folder, catalogue, preset=preset, title=title or read.title or None, body=found.text
    )
    return path, found
