"""The issues that a command is given: one, or all that a series lists.

``issues = ["one/one.toml", "two"]`` in the file of a series names files of issues, or folders of
one each, from its own folder.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TypeVar

from guidekit.errors import InputError, Problem, shown
from guidekit.issue.load import Known, file_bytes, issue_in, load, names_pages
from guidekit.issue.models.series import SeriesFile
from guidekit.toml.check import checked
from guidekit.toml.file import Origin, TomlFile, located, read_toml

Found = TypeVar("Found")

_LISTS = re.compile(rb"^[ \t]*issues[ \t]*=", re.MULTILINE)


def issues_at(path: Path) -> tuple[Path, ...]:
    """The issues of a series, by its file or the only one in a folder without issues; else `path`.

    Raises `InputError` for what is no issue of the series, `MachineError`.
    """
    files = sorted(path.glob("*.toml")) if path.is_dir() else [path]
    if any(map(names_pages, files)):
        return (path,)
    lists = [file for file in files if _LISTS.search(file_bytes(file))]
    return _listed(read_toml(lists[0])) if len(lists) == 1 else (path,)


def _listed(series: TomlFile) -> tuple[Path, ...]:
    listed = {"issues": series.values.get("issues", [])}
    names = checked(SeriesFile, listed, Origin(series)).issues or ()
    found: list[Path] = []
    problems: list[Problem] = []
    for n, name in enumerate(names):
        try:
            found.append(_issue(series.path, name))
        except InputError as error:
            problems += (Problem(("issues", n), x.came, x.allowed, x.todo) for x in error.problems)
    problems += [
        Problem(("issues", n), f"{shown(names[n])} is here already", todo="Leave it out.")
        for n, path in enumerate(found)
        if path in found[:n] and not problems
    ]
    if problems:
        raise InputError(located(problems, Origin(series)))
    return tuple(found)


def _issue(series: Path, name: str) -> Path:
    """The file of an issue that is listed, and that names the series itself."""
    path = issue_in(series.parent / name)
    if not path.is_file():
        raise InputError(Problem((), f"there is no file {path}", "an issue"))
    own = read_toml(path).values.get("series")
    if not isinstance(own, str) or (path.parent / own).resolve() != series.resolve():
        came = f"{path} does not say that it is of this series"
        todo = f'Write series = "…", the way to {series.name} from its folder, at its top.'
        raise InputError(Problem((), came, todo=todo))
    return path


def for_each(issues: Iterable[Path], run: Callable[[Path], Found]) -> list[Found]:
    """What `run` makes of each issue; raises `InputError` with the problems of all, each once."""
    found: list[Found] = []
    problems: dict[Problem, Problem] = {}
    more = 0
    for issue in issues:
        try:
            found.append(run(issue))
        except InputError as error:
            for x in error.problems:  # each issue has its own way to the file of the series
                problems.setdefault(replace(x, file=x.file and x.file.resolve()), x)
            more += error.more
    if problems:
        raise InputError(problems.values(), more)
    return found


def apart(issue: Path, issues: Sequence[Path], known: Known) -> str:
    """What keeps files of this one of the `issues` apart; empty where it is the only one.

    Raises `InputError`, `MachineError`.
    """
    return load(issue, known).file_name if issues[1:] else ""


def check_apart(names: Sequence[str]) -> None:
    """Raise `InputError` if `apart` gives two issues one name, and so one place."""
    if twice := sorted({name for name in names if names.count(name) > 1}):
        came = f"two issues of this series are both called {shown(twice[0])}"
        raise InputError(
            Problem((), came, todo="Write another number or file_name in one of them.")
        )
