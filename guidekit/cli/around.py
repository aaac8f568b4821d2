"""What a command has to choose from: by the maker's settings, and by ``--no-plugins``."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from pathlib import Path
from typing import TYPE_CHECKING

from guidekit.cli.say import say

if TYPE_CHECKING:
    from guidekit.studio.catalogue import Studio
    from guidekit.toml import TomlFile

#: Whether plug-ins are looked for; ``guidekit --no-plugins`` says that they are not.
PLUGINS: ContextVar[bool] = ContextVar("plugins", default=True)


def say_warning(warning: str) -> None:
    """What was left out, for people."""
    say(f"Warning: {warning}", err=True)


@contextmanager
def studio_of(
    issue: Path | TomlFile | None = None, told: Callable[[str], object] = say_warning
) -> Iterator[Studio]:
    """All that an issue may name; `told` hears at the end of what was left out."""
    from guidekit.studio.catalogue import studio

    if issue is not None and not isinstance(issue, Path):
        issue = issue.path
    if issue is not None and issue.is_dir():
        from guidekit.issue import issue_in

        issue = issue_in(issue)
    found = studio(issue, plugins=PLUGINS.get())
    try:
        yield found
    finally:
        for warning in found.warnings:
            told(warning)
