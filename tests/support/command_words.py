"""Every command that there is, by its words."""

from collections.abc import Iterator
from typing import Any

import typer

from guidekit.cli import app


def command_words(group: Any = None, words: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """The words of every command: ``build``, ``presets show`` and so on."""
    group = group or typer.main.get_command(app)
    for name, inner in group.commands.items():
        if hasattr(inner, "commands"):
            yield from command_words(inner, (*words, name))
        else:
            yield (*words, name)
