"""What became of the files of pages since they were made."""

from __future__ import annotations

from pathlib import Path

from guidekit.shipped import FullCatalogue


def states_of(path: Path, known: FullCatalogue) -> dict[int, str]:
    """Of pages that are drawn on the state, ``drawn`` or ``behind``, by page number.

    Looked up in the folder beside the issue, if a build was made there. Raises `InputError`,
    `MachineError`.
    """
    from guidekit.drawn.standing.status import status_issue

    found: dict[int, str] = {}
    for file in status_issue(path, catalogue=known).files:
        if file.state in ("drawn", "behind"):
            for page in file.pages:
                if found.get(page) != "behind":
                    found[page] = file.state
    return found
