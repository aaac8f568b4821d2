"""How a value of the wrong kind is written rightly: as it is meant, or as an example shows."""

from __future__ import annotations

import re
from typing import Any, get_args, get_origin

from pydantic import ValidationError

from guidekit.errors import Key, nearest, shown
from guidekit.toml.model import Model

LONGEST = 300  # characters of an example
SWITCHES = {"true": "true", "yes": "true", "on": "true",
            "false": "false", "no": "false", "off": "false"}  # fmt: skip


def model_at(model: type[Model], key: Key) -> type[Model]:
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


def right_one(table: type[Model], name: str) -> str:
    """A key with a value that fits it, as a file may have it; empty where none is known."""
    example = _example(table, name)
    if isinstance(example, list) and isinstance(example[0], dict):
        inside = ", ".join(f"{k} = {shown(v)}" for k, v in example[0].items())
        return f"[[{name}]], and below it {inside}"
    return "" if example is None else f"{name} = {shown(example)}"


def wanted(
    kind: str, value: object, context: dict[str, Any], model: type[Model], key: Key
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
        return "a list", _list_of(value, model, key)
    if kind in ("model_type", "dict_type"):
        return "a table", _table_at(model, key)
    return "", ""


def _list_of(value: object, model: type[Model], key: Key) -> str:
    """How to write a value that should be a list."""
    table, name = model_at(model, key[:-1]), str(key[-1])
    if isinstance(value, dict) and len(key) == 1:
        return f"Write [[{name}]], with two brackets."
    if isinstance(value, str) and re.fullmatch(r"[\d.]+(\s*[,;]\s*[\d.]+)+", value.strip()):
        return f"Write [{', '.join(re.findall(r'[0-9.]+', value))}], without quotes."
    if isinstance(value, dict) or _fits(table, name, [value]):
        return f"Write [{shown(value)}], in square brackets."
    right = right_one(table, name)
    return f"Write {right}." if right else ""


def _table_at(model: type[Model], key: Key) -> str:
    """How to write what should be a table."""
    table, name = model_at(model, key[:-1]), str(key[-1])
    example = table.samples.get(name) or (model_at(model, key).example if key else None)
    return f"Write {shown(example, LONGEST)}." if example else ""


def _fits(table: type[Model], name: str, value: object) -> bool:
    """True if a key of a table may have this value, whatever stands beside it."""
    try:
        table.model_validate({**table.example, name: value})
    except ValidationError as error:
        return all(x["loc"][:1] != (name,) for x in error.errors(include_url=False))
    return True


def _example(table: type[Model], name: str) -> Any:
    return table.samples.get(name, table.example.get(name))
