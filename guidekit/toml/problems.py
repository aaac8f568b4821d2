"""What is said of values that do not fit a model: pydantic's errors as problems of our own."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any, get_args, get_origin

from pydantic import ValidationError

from guidekit.errors import MOST_TOLD, Key, Problem, nearest, one_of, shown
from guidekit.toml.model import Model

LONGEST = 300  # characters of an example
SWITCHES = {"true": "true", "yes": "true", "on": "true",
            "false": "false", "no": "false", "off": "false"}  # fmt: skip


def problems_of(model: type[Model], error: ValidationError) -> Iterator[Problem]:
    """Every problem that pydantic found; their keys begin where the values do."""
    found = error.errors(include_url=False)
    unknown = [x["loc"] for x in found if x["type"] == "extra_forbidden"]
    not_missing: set[Key] = set()  # keys that are there under their old names
    for number, key in enumerate(unknown):
        table = _model_at(model, key[:-1])
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


def _model_at(model: type[Model], key: Key) -> type[Model]:
    """The model of the table that `key` leads to, or of the last one on the way."""
    named = False  # in a table of tables, which have names of any kind
    for part in key:
        if isinstance(part, int) or named:
            named = False
        elif part in model.model_fields:
            annotation = model.model_fields[part].annotation
            named = get_origin(annotation) is dict
            model = _model_in(annotation) or model
    return model


def _model_in(annotation: Any) -> type[Model] | None:
    """The model that a field's annotation holds, if any: ``tuple[PageModel, ...]`` → PageModel."""
    if isinstance(annotation, type) and issubclass(annotation, Model):
        return annotation
    inner = (_model_in(part) for part in get_args(annotation))
    return next((found for found in inner if found), None)


def _problems(model: type[Model], error: Any) -> Iterator[Problem]:
    kind, key, value = error["type"], error["loc"], error["input"]
    context = error.get("ctx", {})
    if key[-1:] == ("[key]",):  # the name of a table, and not what is in it
        key = key[:-1]
    if own := getattr(context.get("error"), "problems", None):  # a `WrongValueError`
        yield from (problem.below(key) for problem in own)
    elif kind == "missing":
        yield _missing(_model_at(model, key[:-1]), key)
    elif kind in ("greater_than_equal", "less_than_equal"):
        least = "ge" in context
        allowed = f"{context['ge']:,} or more" if least else f"{context['le']:,} or less"
        yield Problem(key, f"{shown(value)} is too {'small' if least else 'large'}", allowed)
    elif kind == "too_long":
        most = context["max_length"]
        yield Problem(key, "this list is too long", f"at most {most:,} entries")
    else:
        allowed, todo = _wanted(kind, value, context, _model_at(model, key))
        allowed = allowed or error["msg"].removeprefix("Input should be ")
        yield Problem(key, f"{shown(value)} is not {allowed}", allowed, todo)


def _missing(table: type[Model], key: Key) -> Problem:
    """A key that is not there, or an entry of a list that has to have so many."""
    name, came = key[-1], "this key is missing"
    if isinstance(name, int):
        return Problem(key[:-1], f"entry {name + 1} of this list is missing", todo="Add it.")
    example = table.example.get(name)
    if isinstance(example, list) and isinstance(example[0], dict):
        inside = ", ".join(f"{k} = {shown(v)}" for k, v in example[0].items())
        todo = f"Add [[{name}]], and below it {inside}."
    else:
        todo = "Add it." if example is None else f"Add {name} = {shown(example)}."
    return Problem(key, came, todo=todo)


def _wanted(
    kind: str, value: object, context: dict[str, Any], model: type[Model]
) -> tuple[str, str]:
    """What is allowed in place of a value of the wrong kind, and how to write this one."""
    text = value.strip() if isinstance(value, str) else ""
    if kind == "literal_error":
        allowed = context["expected"].replace("'", '"')
        names = re.findall('"([^"]+)"', allowed)
        if text in re.findall(r"(?<!\S)\d+(?!\S)", allowed):
            return allowed, f"Write {text}, without quotes."
        todo = f'Write "{text.lower()}".' if text.lower() in names else nearest(text, names)
        return allowed, todo
    if kind == "bool_type":
        meant = SWITCHES.get(text.lower())
        return "true or false", f"Write {meant}, without quotes." if meant else ""
    if kind in ("int_type", "int_from_float"):
        number = re.fullmatch(r"(\d{1,9})\s*[a-z]{0,6}", text)
        return "a whole number", f"Write {number[1]}, without quotes." if number else ""
    if kind == "string_type":
        return "text in quotes", ""
    if kind == "tuple_type":
        return "a list", f"Write [{shown(value)}], in square brackets."
    if kind in ("model_type", "dict_type"):
        return "a table", f"Write {shown(model.example, LONGEST)}." if model.example else ""
    return "", ""
