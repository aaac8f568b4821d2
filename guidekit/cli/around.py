"""What a command has to choose from: by the maker's settings, and by ``--no-plugins``."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path
from typing import TYPE_CHECKING

from guidekit.cli.say import say

if TYPE_CHECKING:
    from guidekit.studio.catalogue import Studio

#: Whether plug-ins are looked for; ``guidekit --no-plugins`` says that they are not.
PLUGINS: ContextVar[bool] = ContextVar("plugins", default=True)


@contextmanager
def studio_of(issue: Path | None = None) -> Iterator[Studio]:
    """All that an issue may name; warnings of what was left out are told at the end."""
    from guidekit.studio.catalogue import studio

    if issue is not None and issue.is_dir():
        from guidekit.issue import issue_in

        issue = issue_in(issue)
    found = studio(issue, plugins=PLUGINS.get())
    try:
        yield found
    finally:
        for warning in found.warnings:
            say(f"Warning: {warning}", err=True)
