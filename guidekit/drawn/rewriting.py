"""An issue's file with another text, and the files of its pages along with it."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from guidekit.drawn.moves import Move, renamed
from guidekit.issue.load import loaded
from guidekit.measure import load_issue
from guidekit.shipped import FullCatalogue, shipped
from guidekit.toml.file import toml_in


def rewrite_issue(
    path: str | Path,
    text: str,
    order: Sequence[tuple[int, ...] | None],
    *,
    back: Sequence[tuple[str, str]] = (),
    catalogue: FullCatalogue | None = None,
    dry_run: bool = False,
) -> Move:
    """Give an issue's file another `text`, and the files beside it the names of their new pages.

    `order` has for each page of the new text the numbers that it has now, None for a new one;
    `back` are names of files in the folder `removed` with those that they get again. All else is
    as in `move_pages`. Raises `InputError`, `MachineError`.
    """
    catalogue = catalogue or shipped()
    issue = load_issue(path, catalogue=catalogue)
    new = loaded(toml_in(issue.path, text.encode()), catalogue)
    now = {entry.numbers: entry for entry in issue.entries}
    pages = [None if numbers is None else now[numbers] for numbers in order]
    folder = issue.folder()
    return renamed(issue, new, pages, folder, catalogue, None, dry_run=dry_run, back=back)
