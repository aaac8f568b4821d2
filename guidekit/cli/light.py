"""Commands that start quickly, for they load nothing to check options that are not given.

Typer asks pydantic about each option but flags, given or not, ``--help`` included (0.29), and to
load it takes as long as to load typer. A command that checks no file has no other use for it.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from typer.core import TyperCommand, TyperGroup


class LightCommand(TyperCommand):
    """A command that checks no file."""

    def get_params(self, ctx: Any) -> list[Any]:
        """All options and arguments."""
        return _light(super().get_params(ctx))


class LightGroup(TyperGroup):
    """A group of commands of which some check no file."""

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
