"""Every exception of guidekit, and what they carry: problems as data.

::

    GuidekitError
    ├── InputError      what was asked for cannot be made as written   exit code 2
    ├── MachineError    the disk, a permission, a limit of the system  exit code 1
    └── ClashError      two things that go by one name                 exit code 1

An `InputError` carries every problem that was found, not only the first. `Problem` keeps the parts
apart, for programs; `sentence` and `told` put them into words, for people.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from difflib import get_close_matches
from math import log10
from os.path import normpath
from pathlib import Path
from typing import Any

MOST_TOLD = 20  # problems in one message; who has more of them begins with these

#: The way to a value in a file: names of keys, and places in lists counted from 0.
Key = tuple[str | int, ...]


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong.

    `key` leads to it in `file`, where it stands in a `line` counted from 1; `pages` are the numbers
    of the page or spread that it belongs to. Where no file is at fault, `argument` names the
    parameter of the function that was called. Of values that do not fit together, `also` holds the
    keys of the others, and the one that was written last is told.

    `came` is a clause that says what is wrong, `allowed` a noun phrase for what may stand there,
    `todo` a sentence that begins with a verb; where there is none, `sentence` asks to write what is
    allowed.
    """

    key: Key
    came: str
    allowed: str = ""
    todo: str = ""
    file: Path | None = None
    line: int | None = None
    pages: tuple[int, ...] = ()
    argument: str = ""
    also: tuple[Key, ...] = ()

    def __str__(self) -> str:
        return in_words(self)

    def below(self, key: Key) -> Problem:
        """The same problem, seen from a table further up: `key` leads to where its own begins."""
        also = tuple((*key, *other) for other in self.also)
        return replace(self, key=(*key, *self.key), also=also)

    def as_data(self) -> dict[str, Any]:
        """Its parts as plain data, the key as people write it."""
        return {
            "file": str(self.file) if self.file else "",
            "line": self.line,
            "pages": list(self.pages),
            "key": key_text(self.key),
            "argument": self.argument,
            "came": self.came,
            "allowed": self.allowed,
            "todo": self.todo,
            "told": str(self),
        }


class GuidekitError(Exception):
    """The root: catch this to catch all that guidekit raises on purpose."""

    exit_code = 1


class InputError(GuidekitError):
    """What was asked for cannot be made as written; `problems` lists the reasons.

    They are all of them, but for a file with thousands: how many `more` there are is counted.
    """

    exit_code = 2

    def __init__(self, problems: Problem | Iterable[Problem], more: int = 0):
        self.problems = (problems,) if isinstance(problems, Problem) else tuple(problems)
        self.more = more
        super().__init__(told(self.problems, more))


class MachineError(GuidekitError):
    """The machine failed: no space, no permission, a file that cannot be read or written."""

    @classmethod
    def from_os(cls, doing: str, error: OSError) -> MachineError:
        """The sentence for an `OSError` that came up while `doing` something."""
        reason = error.strerror or str(error)
        return cls(f"{doing}: {reason}. Nothing half-written was left; mend it and run again.")


class ClashError(GuidekitError):
    """What is installed cannot go together: two owners brought things of one name."""


class WrongValueError(ValueError):
    """What the readers of single values raise: problems whose keys begin at the value."""

    def __init__(self, came: str, allowed: str = "", todo: str = "", key: Key = ()):
        self.problems: tuple[Problem, ...] = (Problem(key, came, allowed, todo),)
        super().__init__(sentence(self.problems[0]))

    @classmethod
    def all(cls, problems: Iterable[Problem]) -> WrongValueError:
        """Several problems of one value."""
        every = tuple(problems)
        error = cls(every[0].came)
        error.problems = every
        return error


def sentence(problem: Problem) -> str:
    """What came, and what to do: ``"600" is not a whole number. Write 600, without quotes.``"""
    came, allowed, todo = problem.came, problem.allowed, problem.todo
    if allowed and not todo and not came.endswith(allowed):
        todo = f"Write {allowed}."
    return f"{came}. {todo}" if todo else f"{came}."


def in_words(problem: Problem, by_path: bool = False) -> str:
    """Where it stands and its `sentence`; `by_path` tells the whole path of its file."""
    words = sentence(problem)
    return f"{where}: {words}" if (where := place(problem, by_path)) else words


def place(problem: Problem, by_path: bool = False) -> str:
    """Where: ``salt-road.toml, line 12, page 4, pages[3].tiers``; the path of a file as such."""
    whole = by_path or not (problem.line or problem.key or problem.pages)
    words = [
        problem.argument,
        str(problem.file if whole else problem.file.name) if problem.file else "",
        f"line {problem.line}" if problem.line else "",
        pages_called(problem.pages) if problem.pages else "",
        key_text(problem.key),
    ]
    return ", ".join(word for word in words if word)


def told(problems: Sequence[Problem], more: int = 0) -> str:
    """Problems one a line; after the first twenty, how many more there are.

    Files that share a name are told by their paths.
    """
    first = problems[:MOST_TOLD]
    files = {normpath(x.file): x.file.name for x in first if x.file}  # a/../b is the same as b
    names = Counter(files.values())
    lines = [in_words(x, bool(x.file and names[x.file.name] > 1)) for x in first]
    if more := more + len(problems) - len(lines):
        lines.append(f"And {more:,} more problem{'s' if more > 1 else ''}.")
    return "\n".join(lines)


def key_text(key: Key) -> str:
    """A key as people write it, lists counted from 1: ``pages[3].panel.1.bleed``."""
    parts = (f"[{x + 1}]" if isinstance(x, int) else f".{_bare(x)}" for x in key)
    return "".join(parts).removeprefix(".")


def _bare(name: str) -> str:
    """The name of a key, in quotes where TOML wants them and where it is too long to be shown."""
    return name if re.fullmatch(r"[\w-]{1,40}", name) else _quoted(name, 40)


def pages_called(numbers: Sequence[int]) -> str:
    """How people say it: ``page 4`` or ``pages 4 and 5``."""
    return f"page{'s' if len(numbers) > 1 else ''} {' and '.join(map(str, numbers))}"


def shown(value: object, longest: int = 80) -> str:
    """A value as a TOML file would write it, never longer than a line."""
    if isinstance(value, bool):
        text = str(value).lower()
    elif isinstance(value, str):
        return _quoted(value, longest)
    elif isinstance(value, int) and value.bit_length() > 300:  # Python refuses to print the longest
        text = f"a number of {int(value.bit_length() * log10(2)) + 1:,} digits"
    elif isinstance(value, (list, tuple)):
        text = f"[{', '.join(shown(item, longest) for item in value[:longest])}]"
    elif isinstance(value, dict):
        pairs = (f"{_bare(k)} = {shown(v, longest)}" for k, v in [*value.items()][:longest])
        text = f"{{ {', '.join(pairs)} }}" if value else "{}"
    else:
        text = str(value)  # a number, a date, a time
    return text if len(text) <= longest else f"{text[: longest - 1]}…"


def _quoted(text: str, longest: int) -> str:
    """Text in the quotes and escapes that TOML shares with JSON."""
    short = text if len(text) <= longest else f"{text[: longest - 3]}…"
    return json.dumps(short, ensure_ascii=False)


def one_of(names: Iterable[str]) -> str:
    """A list of names as a message reads it: ``a, b or c``."""
    *rest, last = sorted(names) or ["nothing"]
    return f"{', '.join(rest)} or {last}" if rest else last


def nearest(name: str, known: Iterable[str]) -> str:
    """``Did you mean "trim"?`` where a known name is close, else an empty string."""
    close = get_close_matches(name[:100], list(known), n=1, cutoff=0.6)
    return f'Did you mean "{close[0]}"?' if close else ""
