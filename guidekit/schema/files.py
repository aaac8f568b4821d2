"""The schema of each kind of file, made from the models that check it."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

from pydantic.json_schema import GenerateJsonSchema

from guidekit.issue.models.issue import Issue
from guidekit.issue.models.part import Layout
from guidekit.issue.models.series import Series, SeriesFile
from guidekit.preset import Preset
from guidekit.schema.events import event_schema
from guidekit.schema.spellings import LOOKING, SHORT_FORMS, VALUES, Schema
from guidekit.studio.lock.model import Lock
from guidekit.studio.pack_file.card import Card
from guidekit.studio.settings.model import Config
from guidekit.toml import Model

#: Tables of a preset of which another may change single values.
PARTIAL = ("Size", "Gutter", "Scroll", "Beats", "Lettering")
DRAFT = "https://json-schema.org/draft/2020-12/schema"


class _Generator(GenerateJsonSchema):
    """Pydantic's own, which knows what the functions of ours read; TOML has no null."""

    def function_before_schema(self, schema: Any) -> Schema:
        name = _called(schema["function"]["function"])
        if name in VALUES:
            return VALUES[name]
        if name in SHORT_FORMS:
            return {"anyOf": [SHORT_FORMS[name], self.generate_inner(schema["schema"])]}
        return self.generate_inner(schema["schema"]) if name in LOOKING else {}

    def model_schema(self, schema: Any) -> Schema:
        found = super().model_schema(schema)
        if "anyOf" in found:  # what holds for tables is no word on their short forms
            closed = found.pop("additionalProperties")
            for one in found["anyOf"]:
                if "properties" in one:
                    one["additionalProperties"] = closed
        return found

    def function_wrap_schema(self, schema: Any) -> Schema:
        return self.generate_inner(schema["schema"])

    def nullable_schema(self, schema: Any) -> Schema:
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: Any) -> Schema:
        return self.generate_inner(schema["schema"])


def _called(function: Callable[..., Any]) -> str:
    """The module and name of a function, as `VALUES` has them."""
    inner = getattr(function, "__func__", function)
    return f"{inner.__module__.removeprefix('guidekit.')}.{inner.__name__}"


def _made(model: type[Model]) -> Schema:
    schema = model.model_json_schema(schema_generator=_Generator)
    for table in (schema, *schema.get("$defs", {}).values()):
        for value in table.get("properties", {}).values():
            value.pop("title", None)
    return schema


def _preset() -> Schema:
    """A preset that is based on another may leave out anything, and so may a table in it."""
    schema = _made(Preset)
    for name in PARTIAL:
        table = schema["$defs"][name]
        for one in (table, *table.get("anyOf", ())):
            one.pop("required", None)
    needed: list[Schema] = [{"required": schema.pop("required")}, {"required": ["based_on"]}]
    properties: Schema = {"based_on": {"type": "string", "description": "Another preset."}}
    properties |= schema["properties"] | {"color": schema["properties"]["colour"]}
    for name in ("colour", "color"):
        properties[name] = {"enum": ["rgb", "grey", "gray"]}
    return {**schema, "properties": properties, "anyOf": needed}


def _issue() -> Schema:
    """An issue, which may leave to its series what that may hold."""
    schema = _with_format(Issue)
    needed = schema.pop("required")
    own = [key for key in needed if key not in Series.model_fields]
    return {**schema, "anyOf": [{"required": needed}, {"required": ["series", *own]}]}


def _with_format(model: type[Series]) -> Schema:
    """An issue or a series with the values of its preset that it changes."""
    schema, preset = _made(model), _preset()
    changes = {key: x for key, x in preset["properties"].items() if key != "based_on"}
    schema["$defs"] = preset["$defs"] | schema["$defs"]
    for name in PARTIAL:
        schema["$defs"][name] = preset["$defs"][name]
    schema["properties"]["format"] = {
        "description": "Values of the preset, changed for this issue.",
        "type": "object",
        "properties": changes,
        "additionalProperties": False,
    }
    return schema


def _layouts() -> Schema:
    """A file of layouts: each table is one, under its name."""
    schema = _made(Layout)
    inner = {key: value for key, value in schema.items() if key != "$defs"}
    return {"type": "object", "additionalProperties": inner, "$defs": schema.get("$defs", {})}


#: Each kind of file, and what makes its schema.
KINDS: dict[str, Callable[[], Schema]] = {
    "preset": _preset,
    "issue": _issue,
    "series": lambda: _with_format(SeriesFile),
    "layout": _layouts,
    "pack": lambda: _made(Card),
    "lock": lambda: _made(Lock),
    "settings": lambda: _made(Config),
    "events": event_schema,
}


def schema_of(kind: str) -> Schema:
    """The JSON Schema (draft 2020-12) of a kind of file, one of `KINDS`."""
    schema = KINDS[kind]()
    return {"$schema": DRAFT, "$id": f"urn:guidekit:{kind}", **schema, "title": f"guidekit {kind}"}


def schema_text(kind: str) -> str:
    """The same as it is kept: JSON, the same for the same models."""
    return json.dumps(schema_of(kind), indent=1, ensure_ascii=False) + "\n"
