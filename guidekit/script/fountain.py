"""What Fountain has that plain scripts have not (fountain.io, Syntax), as plain lines.

Sections (``#``) and scene headings, forced (``.``) or not, are headings; comic scripts have pages
and panels as such. Notes (``[[ ]]``) and what is commented out (``/* */``) are left out, line by
line, so that numbers of lines stay.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from typing import Literal, NamedTuple

Kind = Literal["text", "section", "heading", "cue", "aside"]

_KEY = re.compile(r"([A-Za-z][A-Za-z ]{0,30}):(.*)")
_SCENE = re.compile(r"(?:INT|EXT|EST|INT\./EXT|INT/EXT|I/E)[. ].*", re.IGNORECASE)
_EMPHASIS = re.compile(r"[*_]{1,3}")
_TRANSITION = re.compile(r"[A-Z ]+ TO:")
NOTE_END = "]]"
_LEFT_OUT = (("/*", "*/"), ("[[", NOTE_END))


class ScriptLine(NamedTuple):
    """A line, what it is as far as Fountain says so, and its number."""

    number: int
    text: str
    kind: Kind = "text"


def fountain_lines(lines: Sequence[str]) -> tuple[str, list[ScriptLine]]:
    """The title of the title page, if there is one, and the lines behind that."""
    begin, keys = _title_page(lines)
    return _EMPHASIS.sub("", keys.get("title", "")), [
        _line(number, text)
        for number, text in enumerate(_without_asides(lines), 1)
        if number > begin
    ]


def _title_page(lines: Sequence[str]) -> tuple[int, dict[str, str]]:
    """How many lines it has, and its values; it begins the file and ends with a blank line."""
    keys: dict[str, str] = {}
    key = ""
    for number, line in enumerate(lines):
        if not line.strip():
            return number, keys
        found = _KEY.fullmatch(line)
        if found and not line[0].isspace():
            key = found[1].strip().lower()
            keys[key] = found[2].strip()
        elif line[0].isspace() and key:
            keys[key] = f"{keys[key]} {line.strip()}".strip()
        else:
            return 0, {}
    return len(lines), keys


def _without_asides(lines: Sequence[str]) -> Iterator[str]:
    """Lines without notes and what is commented out; either may reach over lines.

    A note ends before an empty line, and what has no end is text (Syntax, Notes and Boneyard).
    """
    ends = {end: _ends(lines, end) for _, end in _LEFT_OUT}
    waiting = ""
    for number, line in enumerate(lines):
        kept = ""
        while line:
            if waiting:
                _, found, line = line.partition(waiting)
                waiting = "" if found else waiting
                continue
            begins = [(line.find(mark), mark, end) for mark, end in _LEFT_OUT if mark in line]
            begins = [x for x in begins if x[2] in line[x[0] + 2 :] or ends[x[2]][number + 1]]
            if not begins:
                kept, line = kept + line, ""
                continue
            at, mark, waiting = min(begins)
            kept, line = kept + line[:at], line[at + len(mark) :]
        yield kept


def _ends(lines: Sequence[str], end: str) -> list[bool]:
    """Of every line, and of what comes behind the last: whether what is open there ends."""
    found = [False]
    for line in reversed(lines):
        goes_on = found[-1] and (line or end != NOTE_END)
        found.append(end in line or bool(goes_on))
    return found[::-1]


def _line(number: int, text: str) -> ScriptLine:
    """Forced elements by their first character."""
    bare = text.strip()
    if not bare and len(text) >= 2:
        return ScriptLine(number, "", "aside")  # a blank line within a speech
    if set(bare) == {"="} and len(bare) >= 3:
        return ScriptLine(number, "", "aside")  # a page break
    if bare.startswith("#"):
        return ScriptLine(number, bare.lstrip("#").strip(), "section")
    if bare.startswith(".") and not bare.startswith(".."):
        return ScriptLine(number, bare[1:].strip(), "heading")
    if _SCENE.fullmatch(bare) or _TRANSITION.fullmatch(bare):
        return ScriptLine(number, bare, "aside")
    if bare.startswith("@"):
        return ScriptLine(number, bare[1:].rstrip("^").strip(), "cue")
    if bare.startswith("="):
        return ScriptLine(number, bare[1:].strip(), "aside")  # a synopsis
    if bare.startswith(">"):
        return ScriptLine(number, bare.strip("> <"), "aside")  # a transition, or centred text
    return ScriptLine(number, re.sub(r"^\s*[!~]", "", text))
