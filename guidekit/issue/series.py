"""What several issues share, in one file: ``series = "../series.toml"`` in an issue takes it over.

What the issue says itself counts before the series. Switches of guides and layouts are taken
together, name by name; a preset is changed by the series first and by the issue then.
"""

from __future__ import annotations

from dataclasses import replace
from os.path import relpath
from pathlib import Path
from typing import Any, NamedTuple

from guidekit.errors import InputError, Key, Problem, WrongValueError
from guidekit.issue.models.series import SeriesFile
from guidekit.registry import Registry
from guidekit.toml.check import checked
from guidekit.toml.file import Origin, TomlFile, located, named_toml
from guidekit.toml.model import checked_name

TOGETHER = ("guides", "layouts")  # tables that are taken together, name by name


def series_of(file: TomlFile, context: dict[str, Any], held: Registry[TomlFile]) -> TomlFile | None:
    """The file of the series that an issue's file names, checked; None if it names none.

    `context` is what validators may know; files that are `held` need not be there. Raises
    `InputError`, `MachineError`.
    """
    if "series" not in file.values:
        return None
    try:
        name = checked_name(file.values["series"])
    except WrongValueError as error:
        problems = (replace(problem, key=("series",)) for problem in error.problems)
        raise InputError(located(problems, Origin(file))) from None
    path = file.path.parent / name
    if name in held:
        series: TomlFile | None = replace(held.find(name), path=path)
    else:
        series = named_toml(path)
    if series is None:
        came, allowed = f"there is no file {path}", "the path of a series, from the issue's folder"
        raise InputError(located([Problem(("series",), came, allowed)], Origin(file)))
    checked(SeriesFile, series.values, Origin(series), context)
    return series


class Said(NamedTuple):
    """Which file says a key of an issue: its own as it stands there, or else that of its series."""

    own: TomlFile
    series: TomlFile | None

    def of(self, problem: Problem) -> tuple[Origin, Key]:
        """Where the value that is to blame stands, and its key."""
        top = str(problem.key[0]) if problem.key else ""
        return replace(self.at(top), table=()), problem.key

    def at(self, key: str) -> Origin:
        """Where a key at the top stands."""
        shares = self.series and key in self.series.values and key not in self.own.values
        return Origin(self.series if shares else self.own, (key,))


def shared(series: TomlFile) -> dict[str, Any]:
    """What an issue may take over of the file of a series, as it stands there."""
    return {key: value for key, value in series.values.items() if key != "issues"}


def taken_over(file: TomlFile, series: TomlFile) -> TomlFile:
    """The issue's file with what it takes over, its ``format`` excepted."""
    said = shared(series)
    said.pop("format", None)
    if "preset" in said:
        said["preset"] = _from_here(said["preset"], series.path.parent, file.path.parent)
    values = said | file.values
    for key in TOGETHER:
        own, its = file.values.get(key, {}), said.get(key, {})
        if isinstance(own, dict) and (own or its):
            values[key] = its | own
    return replace(file, values=values)


def _from_here(preset: str, there: Path, here: Path) -> str:
    """The path of a preset beside the series, as the issue's folder sees it."""
    if not preset.endswith(".toml"):
        return preset
    return Path(relpath(there / preset, here)).as_posix()
