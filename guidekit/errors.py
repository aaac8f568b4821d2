"""Every exception of guidekit.

::

    GuidekitError
    ├── InputError      what was asked for cannot be made as written   exit code 2
    └── MachineError    the disk, a permission, a limit of the system  exit code 1

An `InputError` carries every problem that was found, not only the first. A problem is a sentence
in four parts: where, what came, what is allowed, what to do.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from difflib import get_close_matches


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong: where it stands, what came, what is allowed, what to do."""

    where: str
    came: str
    allowed: str
    todo: str = ""

    def __str__(self) -> str:
        end = "" if self.allowed.endswith("?") else "."
        text = f"{self.where}: {self.came}. Allowed: {self.allowed}{end}"
        return f"{text} {self.todo}" if self.todo else text

    def in_file(self, name: str) -> Problem:
        """The same problem with the name of its file in front."""
        return Problem(f"{name}: {self.where}", self.came, self.allowed, self.todo)

    def within(self, place: str) -> Problem:
        """The same problem with `place` (a file, a page) named in front."""
        return Problem(f"{place}, {self.where}", self.came, self.allowed, self.todo)


class GuidekitError(Exception):
    """The root: catch this to catch all that guidekit raises on purpose."""

    exit_code = 1


class InputError(GuidekitError):
    """What was asked for cannot be made as written; `problems` lists every reason."""

    exit_code = 2

    def __init__(self, problems: Problem | Iterable[Problem]):
        self.problems = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class MachineError(GuidekitError):
    """The machine failed: no space, no permission, a file that cannot be read or written."""

    @classmethod
    def from_os(cls, doing: str, error: OSError) -> MachineError:
        """The sentence for an `OSError` that came up while `doing` something."""
        reason = error.strerror or str(error)
        return cls(f"{doing}: {reason}. Nothing half-written was left; mend it and run again.")


def shown(value: object, longest: int = 80) -> str:
    """A value as an error message quotes it: never longer than a line."""
    text = str(value).lower() if isinstance(value, bool) else repr(value)
    if not isinstance(value, (str, int, float, list)):
        text = str(value)  # a date, a time
    return text if len(text) <= longest else f"{text[: longest - 1]}…"


def one_of(names: Iterable[str]) -> str:
    """A list of names as a message reads it: ``a, b or c``."""
    *rest, last = sorted(names) or ["nothing"]
    return f"{', '.join(rest)} or {last}" if rest else last


def nearest(name: str, known: Iterable[str]) -> str:
    """``Did you mean "trim"?`` where a known name is close, else an empty string."""
    close = get_close_matches(name, list(known), n=1, cutoff=0.6)
    return f'Did you mean "{close[0]}"?' if close else ""
