"""A TOML file as it was read, and where in it something stands."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from dataclasses import dataclass, replace
from os.path import lexists
from pathlib import Path
from typing import Any, Protocol

from guidekit.errors import InputError, Key, MachineError, Problem
from guidekit.patience import answered

DEEPEST = 100  # levels of tables and lists; 24 splits within each other take half of them
LARGEST_FILE = 4_000_000  # bytes; a text file for an issue is a few thousand
MOST_DOTS = 100_000  # in keys and numbers; each level of a dotted key takes tomllib a kilobyte

#: Keys that files may spell in another way as well.
ALSO_SPELLED = {"colour": "color"}

_NAME = rb"""(?:[\w-]++|"[^"\n]*+"|'[^'\n]*+')"""
_DEEP_KEY = re.compile(rb"(?<![\w-])%b(?:[ \t]*+\.[ \t]*+%b){%d}" % (_NAME, _NAME, DEEPEST))


@dataclass(frozen=True, eq=False)
class TomlFile:
    """The bytes of a file, without a byte order mark, and the tables in them."""

    path: Path
    text: bytes
    values: dict[str, Any]

    def at(self, key: Key) -> Any:
        """What stands at a key that is there."""
        found: Any = self.values
        for part in key:
            found = found[part]
        return found


@dataclass(frozen=True)
class Origin:
    """Where values come from: a table of a file, or an argument of the function called."""

    file: TomlFile | None = None
    table: Key = ()
    argument: str = ""

    @property
    def name(self) -> str:
        """The file's name, or the argument's."""
        return self.file.path.name if self.file else self.argument


class Origins(Protocol):
    """Values of which each may come from another place."""

    def of(self, problem: Problem) -> tuple[Origin, Key]:
        """Where the value that is to blame comes from, and its key."""
        ...


def located(problems: Iterable[Problem], origin: Origin | Origins) -> tuple[Problem, ...]:
    """Problems with their files and lines, in the order of lines.

    Their keys begin in the table of `origin`.
    """
    by_file: dict[TomlFile | None, list[Problem]] = {}
    for problem in problems:
        start, key = (origin, problem.key) if isinstance(origin, Origin) else origin.of(problem)
        if not start.file:
            problem = replace(problem, key=(), argument=start.argument)
        elif not problem.file:
            key = _in_file(start.file.values, (*start.table, *key))
            problem = replace(problem, key=key, file=start.file.path)
        by_file.setdefault(start.file, []).append(problem)
    return tuple(x for file, found in by_file.items() for x in _with_lines(file, found))


def _in_file(values: dict[str, Any], key: Key) -> Key:
    """The key as far as there is something in the file, which may be short for a table.

    What is missing in a table is kept if it is all that is missing.
    """
    here: Any = values
    for n, part in enumerate(key):
        if isinstance(here, dict) and isinstance(part, str):
            if part not in here and (other := ALSO_SPELLED.get(part)) in here:
                return _in_file(values, (*key[:n], str(other), *key[n + 1 :]))
            if part not in here:
                return key if n == len(key) - 1 else key[:n]
        elif not (isinstance(here, list) and isinstance(part, int) and part < len(here)):
            return key[:n]
        here = here[part]
    return key


def _with_lines(file: TomlFile | None, problems: list[Problem]) -> list[Problem]:
    if not file:
        return problems
    from guidekit.toml.lines import lines_of  # loaded only where something is wrong

    lines = lines_of(file.text, {problem.key for problem in problems})

    def line(key: Key) -> int | None:
        """Its own, or that of the table where it is missing."""
        return next((lines[key[:n]] for n in range(len(key), 0, -1) if key[:n] in lines), None)

    placed = [p if p.line else replace(p, line=line(p.key)) for p in problems]
    return sorted(placed, key=lambda problem: problem.line or 0)


def read_toml(path: Path) -> TomlFile:
    """A TOML file and what is in it.

    Raises `InputError` if it is missing, a folder or no TOML, `MachineError` if it may not be read.
    """

    def bad(came: str, todo: str) -> InputError:
        return InputError(Problem((), came, "a TOML text file in UTF-8", todo, file=path))

    try:
        if path.is_dir():
            raise bad("this is a folder", "Name the file in it.")
        if path.exists() and not path.is_file():
            raise bad("this is a device or a pipe", "Name a text file.")
        if path.stat().st_size > LARGEST_FILE:
            raise bad(
                f"this file has more than {LARGEST_FILE:,} bytes, which no text file of ours has",
                "Name the TOML file.",
            )
        text = path.read_bytes().removeprefix(b"\xef\xbb\xbf")
    except (FileNotFoundError, NotADirectoryError):
        raise bad("there is no such file", "Check the name and the folder.") from None
    except ValueError:  # a NUL byte
        raise bad("no file can have this name", "Check the name.") from None
    except OSError as error:
        raise MachineError.from_os(f"reading {path}", error) from None
    return toml_in(path, text)


def named_toml(path: Path) -> TomlFile | None:
    """The TOML file that another file names by its path; None where nothing is there.

    Raises what `read_toml` raises, and `MachineError` if the drive that it lies on is silent.
    """
    return answered(f"reading {path}", lambda: read_toml(path) if lexists(path) else None)


def toml_in(path: Path, text: bytes) -> TomlFile:
    """The text of a file, without a byte order mark, and what is in it; raises `InputError`."""
    return TomlFile(path, text, _tables(path, text))


def _tables(path: Path, text: bytes) -> dict[str, Any]:
    """What tomllib reads; what would exhaust it is refused before."""

    def bad(came: str, todo: str, at: int | None = None) -> InputError:
        line = None if at is None else text.count(b"\n", 0, at) + 1
        return InputError(Problem((), came, "TOML", todo, file=path, line=line))

    too_deep = f"tables and lists are nested too deeply, more than {DEEPEST} in each other"
    if found := _DEEP_KEY.search(text):
        raise bad(too_deep, "Nest less.", found.start())
    if text.count(b".") > MOST_DOTS:
        raise bad(f"this file has more than {MOST_DOTS:,} dots", "Divide it into several issues.")
    try:
        values = tomllib.loads(text.decode())
    except UnicodeDecodeError as error:
        came = f"byte {error.start} is not UTF-8"
        raise bad(came, "Save the file as UTF-8.", error.start) from None
    except tomllib.TOMLDecodeError as error:
        from guidekit.toml.slips import slip_in

        raise InputError(slip_in(path, text.decode(), error)) from None
    except RecursionError:
        raise bad(too_deep, "Nest less.") from None
    except ValueError:  # Python reads no decimal number of more than 4,300 digits
        found = re.search(rb"[0-9_]{4300,}", text)
        raise bad("a number is beyond all measure", "Write a smaller one.",
                  found and found.start()) from None  # fmt: skip
    if _deeper_than(values, DEEPEST):
        raise bad(too_deep, "Nest less.")
    return values


def _deeper_than(data: dict[str, Any], levels: int) -> bool:
    """True if tables and lists are nested in more than so many levels."""
    found: list[Any] = [data]
    for _ in range(levels):
        found = [
            inner
            for item in found
            for inner in (item.values() if isinstance(item, dict) else item)
            if isinstance(inner, (dict, list))
        ]
        if not found:
            return False
    return True
