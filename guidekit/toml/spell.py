"""Values as a TOML file writes them."""

from __future__ import annotations

import json
import re
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
