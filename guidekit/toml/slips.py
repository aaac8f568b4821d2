"""Slips in the writing of TOML: the line, what is wrong with it, and how to write it."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from pathlib import Path

from guidekit.errors import Problem, shown
from guidekit.units import SPELLINGS

LONGEST = 100  # characters of a line that is shown

#: How tomllib begins its sentences, in words of ours, and what to do.
SAID = {
    "Cannot overwrite a value": ("this key is there already", "Take one of the two out."),
    "Cannot declare": ("this table is there already", "Put both into one."),
    "Unclosed array": ("a list that is opened here has no end", "Close it with ]."),
    "Unterminated string": ("a text that begins here has no end", "Close it with its quotes."),
    "Expected '='": ("there is no = behind the key", "Write key = value."),
}
#: What opens that which has no end, as a search from the last line back finds it.
OPENERS = {"Unclosed array": ("[", "]"), "Unterminated string": ('"""', "\0")}

_CURLY = str.maketrans("“”„‟«»‘’‚‛", '""""""' + "''''")
_BARE = re.compile(r"""([=\[,]\s*)([^\s"'\[\]{},#=][^"'\[\]{},#=]*?)(?=\s*(?:[,\]}#]|$))""")
_MEASURE = re.compile(r"([+-]?(?:\d+/\d+|\d*\.?\d+))\s*([^\s\d.,/]+)")


def slip_in(path: Path, text: str, error: tomllib.TOMLDecodeError) -> Problem:
    """The problem for broken TOML; where the slip is a usual one, with the line mended."""
    lines = text.split("\n")
    said, _, at = str(error).partition(" (at ")
    found = re.match(r"line (\d+)", at)
    number = min(int(found[1]), len(lines)) if found else len(lines)
    line = lines[number - 1].strip()
    if said == "Invalid value" and (not line or (line.startswith("[") and _is_toml(line))):
        said, number = "Unclosed array", number - 1  # the end, or a heading taken for an entry
    came, todo = next((words for begin, words in SAID.items() if said.startswith(begin)), ("", ""))
    opener = next((pair for begin, pair in OPENERS.items() if said.startswith(begin)), None)
    if opener and (opened := _opening(lines[:number], *opener)):
        return Problem((), came, "", todo, path, opened)
    if re.fullmatch(r"""[^"'=]*=\s*(#.*)?""", line):
        came, todo = f"{_short(line)} has nothing behind the =", "Write a value there."
    elif mended := _mended(line):
        why, better = mended
        came, todo = f"{_short(line)} is not TOML, in which {why}", f"Write {better}"
    else:
        came = came or f"{said[:1].lower()}{said[1:]}"
        came, todo = f"{_short(line)} is not TOML: {came}", todo or "Mend that line."
    return Problem((), came, "", todo, path, number)


def _opening(lines: list[str], opener: str, closer: str) -> int:
    """The number of the last line that opens more than it closes; 0 for none."""
    numbered = [*enumerate(lines, 1)][::-1]
    return next((n for n, line in numbered if line.count(opener) > line.count(closer)), 0)


def _short(line: str) -> str:
    return line if len(line) <= LONGEST else f"{line[: LONGEST - 1]}…"


def _mended(line: str) -> tuple[str, str] | None:
    """Why a line cannot be read and how to write it, if one or several usual slips are in it."""
    reasons: list[str] = []
    if len(line) > LONGEST or _is_toml(line):
        return None
    for why, mend in SLIPS:
        if (better := mend(line)) != line:
            reasons.append(why)
            line = better
            if _is_toml(line):
                return reasons[0], line
    return None


def _is_toml(line: str) -> bool:
    """True for a line that can be read, by itself or within a list."""
    for text in (line, f"x = [\n{line}\n]"):
        try:
            tomllib.loads(text)
        except tomllib.TOMLDecodeError:
            continue
        return True
    return False


def _closed(line: str) -> str:
    """With the quotes at its end that a text in it lacks."""
    return f'{line}"' if line.count('"') % 2 and not line.endswith('"') else line


def _with_commas(line: str) -> str:
    """With commas in a list of numbers."""
    return re.sub(r"\[[\d\s,.]+\]", lambda found: re.sub(r"(?<=\d)\s+(?=\d)", ", ", found[0]), line)


def _quoted(line: str) -> str:
    """With quotes round what has to have them, and numbers and switches as TOML has them."""
    return _BARE.sub(lambda found: found[1] + _value(found[2]), line)


def _value(text: str) -> str:
    if _is_toml(f"x = {text}"):
        return text
    if re.fullmatch(r"\.\d+|0+\d+", text):
        return f"0{text}" if text[0] == "." else text.lstrip("0")
    if measure := _MEASURE.fullmatch(text):
        number, unit = measure.groups()
        number = f"0{number}" if number.startswith(".") else number
        return number if unit == "dpi" else shown(f"{number} {SPELLINGS.get(unit, unit)}")
    return shown(text)


def _requoted(line: str) -> str:
    """A whole value in quotes again: what is in it may hold quotes of its own."""
    found = re.fullmatch(r"""([\w.-]+\s*=\s*)(?:(["'])(.*)\2|([^\s"'\[{#\d].*))""", line)
    return found[1] + shown(found[3] or found[4], LONGEST) if found else line


def _sub(pattern: str, better: str) -> Callable[[str], str]:
    return lambda line: re.sub(pattern, better, line)


#: Usual slips, each with the rule that it breaks; later ones see what earlier ones have mended.
SLIPS: tuple[tuple[str, Callable[[str], str]], ...] = (
    (
        "a list of tables has two brackets",
        _sub(r"^(?:\[\[([^\[\]]+)\]|\[([^\[\]]+)\]\])$", r"[[\1\2]]"),
    ),
    ("text stands in straight quotes", lambda line: line.translate(_CURLY)),
    ("a backslash stands in single quotes", _sub(r"""=\s*"([^"']*\\[^"']*)"$""", r"= '\1'")),
    ("inches are written as in", _sub(r'=\s*([\d./]+)\s*"\s*$', r'= "\1 in"')),
    ("text has quotes at both ends", _closed),
    ("an = stands behind a key", _sub(r"^([\w.-]+)\s*:\s*", r"\1 = ")),
    ("true is written small", _sub(r"(=\s*)(?:True|TRUE)\b", r"\1true")),
    ("false is written small", _sub(r"(=\s*)(?:False|FALSE)\b", r"\1false")),
    ("numbers have a decimal point", _sub(r"(\d),(\d+)\s*(mm|cm|in|pt|px)\b", r"\1.\2 \3")),
    ("entries have commas between them", _with_commas),
    ("no comma stands before }", _sub(r",(\s*\})", r"\1")),
    ("text and lengths stand in quotes", _quoted),
    ("quotes inside quotes have a backslash", _requoted),
)
