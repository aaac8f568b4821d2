"""From the tables of a TOML file to a checked model, with every problem of the file at once."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import islice
from typing import Any, TypeVar

from pydantic import ValidationError

from guidekit.errors import InputError
from guidekit.toml.file import Origin, Origins, located
from guidekit.toml.model import Model

MOST_KEPT = 1_000  # problems of one model; a file may have so many that they fill the memory

ModelType = TypeVar("ModelType", bound=Model)


def checked(
    model: type[ModelType],
    values: dict[str, Any],
    origin: Origin | Origins,
    context: Mapping[str, Any] | None = None,
) -> ModelType:
    """`values` as a `model`; raises `InputError` with every problem.

    `origin` is where the values stand, or tells it for each where they come from several files;
    `context` is what validators may know.
    """
    try:
        return model.model_validate(values, context=context)
    except ValidationError as error:
        from guidekit.toml.problems import problems_of

        first = [*islice(problems_of(model, error), MOST_KEPT)]
        more = error.error_count() - MOST_KEPT if len(first) == MOST_KEPT else 0
        found = located(first, origin)
    raise InputError(found, more)
