"""What is said of values that do not fit a model: pydantic's errors as problems of our own."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from pydantic import ValidationError

from guidekit.errors import MOST_TOLD, Key, Problem, nearest, one_of, shown
from guidekit.toml.model import Model
from guidekit.toml.right_ones import model_at, right_one, wanted


def problems_of(model: type[Model], error: ValidationError) -> Iterator[Problem]:
    """Every problem that pydantic found; their keys begin where the values do."""
    found = error.errors(include_url=False)
    unknown = [x["loc"] for x in found if x["type"] == "extra_forbidden"]
    not_missing: set[Key] = set()  # keys that are there under their old names
    for number, key in enumerate(unknown):
        table = model_at(model, key[:-1])
        if new := table.renamed.get(str(key[-1]), "").partition(" ")[0].rstrip(","):
            names = table.model_fields if new in table.also_known else [new]  # or come with it
            not_missing |= {(*key[:-1], name) for name in names}
        yield _unknown_key(table, key, suggest=number < MOST_TOLD)
    for item in found:
        kept = item["type"] != "missing" or item["loc"] not in not_missing
        if kept and item["type"] != "extra_forbidden":
            yield from _problems(model, item)


def _unknown_key(table: type[Model], key: Key, suggest: bool) -> Problem:
    name, known = str(key[-1]), [*table.model_fields, *table.also_known]
    if new := table.renamed.get(name):
        return Problem(key, "this key has another name now", new, f"Write {new}.")
    if there := table.elsewhere.get(name):
        return Problem(key, "this key does not belong here", there, f"Write {there}.")
    todo = nearest(name, known) if suggest else ""  # to compare is slow
    return Problem(key, "there is no such key", one_of(known), todo)


def _problems(model: type[Model], error: Any) -> Iterator[Problem]:
    kind, key, value = error["type"], error["loc"], error["input"]
    context = error.get("ctx", {})
    if key[-1:] == ("[key]",):  # the name of a table, and not what is in it
        key = key[:-1]
    if own := getattr(context.get("error"), "problems", None):  # a `WrongValueError`
        yield from (problem.below(key) for problem in own)
    elif kind == "missing":
        yield _missing(model_at(model, key[:-1]), key)
    elif kind in ("greater_than_equal", "less_than_equal"):
        least = "ge" in context
        allowed = f"{context['ge']:,} or more" if least else f"{context['le']:,} or less"
        yield Problem(key, f"{shown(value)} is too {'small' if least else 'large'}", allowed)
    elif kind == "too_long":
        most = context["max_length"]
        yield Problem(key, "this list is too long", f"at most {most:,} entries")
    else:
        allowed, todo = wanted(kind, value, context, model, key)
        allowed = allowed or error["msg"].removeprefix("Input should be ")
        yield Problem(key, f"{shown(value)} is not {allowed}", allowed, todo)


def _missing(table: type[Model], key: Key) -> Problem:
    """A key that is not there, or an entry of a list that has to have so many."""
    name, came = key[-1], "this key is missing"
    if isinstance(name, int):
        return Problem(key[:-1], f"entry {name + 1} of this list is missing", todo="Add it.")
    right = right_one(table, name)
    return Problem(key, came, todo=f"Add {right}." if right else "Add it.")
