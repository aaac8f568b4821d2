"""How values are written that functions of ours read: each function with a JSON Schema for it.

What is not here may be anything: a schema that refuses what is right is worse than a lenient one.
"""

from __future__ import annotations

from typing import Any

from guidekit.units import SPELLINGS, UNITS

Schema = dict[str, Any]


def text(pattern: str = "", about: str = "", *examples: str) -> Schema:
    """Text of this pattern."""
    found: Schema = {"type": "string"}
    found |= {"pattern": f"^{pattern}$"} if pattern else {}
    found |= {"description": about} if about else {}
    return found | ({"examples": [*examples]} if examples else {})


def any_of(*schemas: Schema) -> Schema:
    """One of them."""
    return {"anyOf": [*schemas]}


_DIGITS = r"(?:\d{1,9}(?:\.\d{1,9})?|\.\d{1,9}|\d{1,9}/\d{1,9})"
_LETTERS = {x for unit in (*UNITS, *SPELLINGS) for x in (unit.lower(), unit.upper())} - {"°"}
_UNIT = f"(?:{'|'.join(sorted(_LETTERS, key=lambda unit: (-len(unit), unit)))})"
_ANGLE = r"\s*[+-]?(?:\d{1,9}(?:\.\d{1,9})?|\.\d{1,9})\s*(?:deg|°)\s*"
_PERCENT = r"\s*[+-]?\d{1,9}(?:\.\d{1,9})?\s*%\s*"

LENGTH = text(rf"\s*\+?{_DIGITS}\s*{_UNIT}\s*", "A length with its unit.", "3 mm", "1/8 in")
SIGNED = text(rf"\s*[+-]?{_DIGITS}\s*{_UNIT}\s*", "A length with its unit.", "-8 mm")
ANGLE = text(_ANGLE, "An angle.", "10 deg")
SHARE = any_of(LENGTH, text(_PERCENT, "A percentage.", "30 %"))
PLACE = any_of(SIGNED, text(_PERCENT, "A percentage.", "30 %"))
WEIGHT: Schema = {"type": "number", "exclusiveMinimum": 0, "maximum": 1_000_000}
NAME: Schema = {"type": "string", "minLength": 1, "maxLength": 250}
TEXTS: Schema = {"type": "array", "items": {"type": "string"}}
NUMBER_OR_NAME: Schema = {"type": ["integer", "string"]}

#: By module and name of the function that reads the value.
VALUES: dict[str, Schema] = {
    "toml.model.not_negative": LENGTH,
    "toml.model.checked_name": NAME,
    "preset.model._colour": text("#[0-9a-fA-F]{6}", "A colour.", "#ffffff"),
    "preset.model._ratio": text(r"\d{1,6}(?:/\d{1,6}|\.\d{1,6})?", "A ratio.", "2/3"),
    "preset.drawing._percent": text(r"\s*\d{1,3}(?:\.\d{1,4})?\s*%\s*", "A percentage.", "60 %"),
    "issue.models.share._share": any_of(WEIGHT, SHARE),
    "issue.models.share._size": SHARE,
    "issue.models.share.read_position": PLACE,
    "issue.models.part._panels": any_of(
        {"type": "integer", "minimum": 1, "maximum": 1000},
        {"type": "string", "description": "The name of a layout."},
    ),
    "issue.models.letter_map.read_map": text("", "A page drawn in letters, one letter a panel."),
    "issue.models.scroll_values.read_height": text("", "A height.", "900 px", "1.5 screens"),
    "issue.models.scroll_values.read_ratio": text(
        r"\s*\d{1,4}\s*:\s*\d{1,4}\s*", "A ratio.", "3:2"
    ),
    "issue.models.scroll_values.read_gap": text("", "A gap.", "close", "normal", "scene", "300 px"),
    "issue.models.panel._sides": any_of({"type": "string"}, TEXTS),
    "issue.models.issue._which_run_out": any_of({"type": "string"}, TEXTS),
    "issue.models.panel._border": any_of({"type": "boolean"}, LENGTH),
    "issue.models.panel._step": ANGLE,
    "issue.models.panel._name": NUMBER_OR_NAME,
    "issue.models.panel._names": any_of(NUMBER_OR_NAME, {"type": "array", "items": NUMBER_OR_NAME}),
    "issue.models.own_shape._tilt": ANGLE,
    "issue.models.own_shape._some_length": LENGTH,
    "issue.models.own_shape._corners": {"type": "array", "minItems": 3},
    "issue.models.book._number": {"type": "number", "exclusiveMinimum": 0, "maximum": 10_000},
    "issue.models.book._caliper": LENGTH,
    "units.parse": any_of(ANGLE, SIGNED, {"enum": ["corner", "-corner"]}),
    "studio.pack_file.card._name": NAME,
}

#: Functions that only look at what another then reads.
LOOKING = (
    "toml.model.some", "toml.model.short", "toml.model.small", "preset.guides._switches",
    "preset.model._spelled_out",
)  # fmt: skip

#: Functions that make a table of something shorter, which may stand in its place.
SHORT_FORMS: dict[str, Schema] = {
    "preset.sizes._a_table": LENGTH,
    "preset.drawing._bare_name": NAME,
    "issue.models.part._short_forms": VALUES["issue.models.part._panels"],
    "issue.models.book._bare_name": NAME,
    "issue.models.book._bare_title": NAME,
    "issue.models.book._barcode": {"type": "boolean"},
}
