"""What a shell offers while one types: names from the catalogue that the command will use."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from guidekit.errors import GuidekitError

if TYPE_CHECKING:
    from guidekit.studio.catalogue import Studio

Complete = Callable[[typer.Context, str], list[str]]


def _offered(names: Callable[[Studio, typer.Context], Iterator[str]], many: bool) -> Complete:
    """A function for the shell; `many` names have commas between them. It never fails."""

    def complete(context: typer.Context, incomplete: str) -> list[str]:
        done, comma, last = incomplete.rpartition(",") if many else ("", "", incomplete)
        with suppress(GuidekitError, OSError):
            found = names(_studio(context), context)
            return [f"{done}{comma}{name}" for name in found if name.startswith(last)]
        return []

    return complete


def _studio(context: typer.Context) -> Studio:
    from guidekit.studio.catalogue import studio

    given = context.params.get("issue"), *context.args  # not yet told apart while one types
    issue = next((path for path in given if path and Path(path).is_file()), None)
    plugins = not context.find_root().params.get("no_plugins")
    return studio(issue, plugins=plugins)


def _presets(studio: Studio, _: typer.Context) -> Iterator[str]:
    return (entry.name for entry in studio.held_presets())


def _layouts(studio: Studio, _: typer.Context) -> Iterator[str]:
    return iter(studio.catalogue.layouts)


def _formats(studio: Studio, _: typer.Context) -> Iterator[str]:
    return iter(studio.catalogue.writers)


def _layers(studio: Studio, _: typer.Context) -> Iterator[str]:
    from guidekit.studio.lists.layer_names import layer_names

    return layer_names(studio)


def _both(studio: Studio, context: typer.Context) -> Iterator[str]:
    yield from _presets(studio, context)
    yield from _layouts(studio, context)


preset_names = _offered(_presets, many=False)
layout_names = _offered(_layouts, many=False)
preset_and_layout_names = _offered(_both, many=False)
format_names = _offered(_formats, many=True)
layer_names = _offered(_layers, many=True)
