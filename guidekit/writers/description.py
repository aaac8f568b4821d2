"""What a file says of itself in words: a sentence for people, then plain data for programs.

Both stand in one text, for a description is what other programs keep of a file's metadata when they
save it again.
"""

from __future__ import annotations

import json
from typing import Any

from guidekit.layers.model import Stack
from guidekit.layers.prints import whole_info

FOR_PROGRAMS = "The rest is for programs:"
DECODER = json.JSONDecoder()
MOST_TRIES = 1_000  # braces in the words before the data; names are shorter than that


def as_json(info: dict[str, Any]) -> str:
    """Plain data on one line, any script as it is, keys in a fixed order."""
    return json.dumps(info, ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def description(stack: Stack, *, prints: bool = False) -> str:
    """The stack's words and its info; `info_in` finds the info again. Empty if there is neither.

    A file of layers says by `prints` what each of them was when it was written.
    """
    info = whole_info(stack) if prints else stack.info
    data = as_json(info) if info else ""
    return "\n".join(filter(None, (stack.about, stack.about and data and FOR_PROGRAMS, data)))


def info_in(text: str) -> dict[str, Any] | None:
    """The info at the end of a description; None if there is none.

    What stands before it, and white space anywhere outside of its strings, may have changed.
    """
    text, at = text.rstrip(), -1
    for _ in range(MOST_TRIES):
        at = text.find("{", at + 1)
        if at < 0:
            break
        try:
            found, end = DECODER.raw_decode(text, at)
        except (ValueError, RecursionError):
            continue
        if end == len(text):
            info: dict[str, Any] = found  # what begins with a brace is no other kind of data
            return info
    return None
