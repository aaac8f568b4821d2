"""Values as a TOML file writes them."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from typing import Any

_BARE = re.compile(r"[A-Za-z0-9_-]+")
_PLAIN_LINES = re.compile(r'[^"\\\x00-\x09\x0b-\x1f\x7f]*')


def spelled(value: Any) -> str:
    """A value on one line; text of several lines, such as a map, in three quotes."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return _text(value)
    if isinstance(value, list):
        return f"[{', '.join(map(spelled, value))}]"
    if isinstance(value, dict):
        pairs = [f"{spelled_key(name)} = {spelled(inner)}" for name, inner in value.items()]
        return f"{{ {', '.join(pairs)} }}" if pairs else "{}"
    return str(value)  # numbers, dates and times are written as Python shows them


def spelled_key(*names: str) -> str:
    """A key of one or several names: ``panel.3``, ``"B c".d``."""
    return ".".join(name if _BARE.fullmatch(name) else _quoted(name) for name in names)


def _text(value: str) -> str:
    if "\n" in value and _PLAIN_LINES.fullmatch(value):
        return f'"""\n{value}"""'
    return _quoted(value)


def _quoted(text: str) -> str:
    """Text in the quotes and escapes that TOML shares with JSON, but for one character."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def lines(names: tuple[str, ...], value: Any) -> str:
    """Lines under a heading: tables of tables in dotted keys, all else in one."""
    if is_table_of_tables(value):
        return "".join(lines((*names, name), inner) for name, inner in value.items())
    if len(names) == 2 and isinstance(value, dict) and value:
        return "".join(lines((*names, name), inner) for name, inner in value.items())
    return f"{spelled_key(*names)} = {spelled(value)}\n"


def block(names: Sequence[str], table: dict[str, Any], brackets: str) -> str:
    """A heading, in ``[]`` or ``[[]]``, with the lines of its table."""
    half = len(brackets) // 2
    below = "".join(lines((name,), value) for name, value in table.items())
    return f"{brackets[:half]}{spelled_key(*names)}{brackets[half:]}\n{below}"


def is_table_of_tables(value: Any) -> bool:
    """True for a table that holds tables only, and some."""
    return isinstance(value, dict) and bool(value) and all(
        isinstance(inner, dict) for inner in value.values()
    )  # fmt: skip
