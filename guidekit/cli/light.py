"""Commands that start quickly: one makes no other, and none loads what checks options not given.

Typer makes all commands to run one, with a signature for each option. It asks pydantic about each
option but flags, given or not, ``--help`` included (0.29), and to load it takes as long as to load
typer. A command that checks no file has no other use for it.
"""

from __future__ import annotations

from collections import UserDict
from collections.abc import Callable
from typing import Any

import typer
from typer.core import TyperCommand, TyperGroup

from guidekit.registry import Named


class Commands(UserDict[str, Any]):
    """Commands by name, from ``module:name`` of their functions or apps.

    Each is loaded and made when it is asked for.
    """

    def __getitem__(self, name: str) -> Any:
        found = Named(super().__getitem__(name)).found
        if isinstance(found, typer.Typer):
            return typer.main.get_command(found)
        alone = group()
        alone.command(name, cls=LightCommand)(found)
        return typer.main.get_command(alone)


def group(**given: Any) -> typer.Typer:
    """A group of commands without any yet, plain as all of them are."""
    return typer.Typer(cls=LightGroup, add_completion=False, rich_markup_mode=None, **given)


class LightCommand(TyperCommand):
    """A command of which options that are not given are not checked."""

    def get_params(self, ctx: Any) -> list[Any]:
        """All options and arguments."""
        return _light(super().get_params(ctx))


class LightGroup(TyperGroup):
    """A group of which options that are not given are not checked, and all is listed by name."""

    def list_commands(self, ctx: Any) -> list[str]:
        """The names of all commands, none of them made."""
        return list(self.commands)

    def get_params(self, ctx: Any) -> list[Any]:
        """All options and arguments."""
        return _light(super().get_params(ctx))


def _light(params: list[Any]) -> list[Any]:
    """The same parameters; those that may be left out let None through as it is."""
    for param in params:
        if not param.required and "process_value" not in vars(param):
            param.process_value = _unless_none(param.process_value)
    return params


def _unless_none(check: Callable[..., Any]) -> Callable[..., Any]:
    return lambda ctx, value: None if value is None else check(ctx, value)
