"""Reads an issue's file and the preset that it names, with the issue's own changes to it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from guidekit.errors import InputError, MachineError, Problem
from guidekit.issue.binding import binding_problems, cover_problems
from guidekit.issue.file_names import issue_file_name
from guidekit.issue.label_font import find_font
from guidekit.issue.layouts import Layouts, with_own
from guidekit.issue.models.issue import Issue
from guidekit.issue.models.part import Layout
from guidekit.issue.order import PageEntry, in_order
from guidekit.issue.series import Said, series_of, taken_over
from guidekit.preset import Preset, PresetSource, find_preset
from guidekit.raster.font import FontFile
from guidekit.registry import Catalogue
from guidekit.toml.check import checked
from guidekit.toml.file import LARGEST_FILE, Origin, TomlFile, located, read_toml

_PAGES = re.compile(rb"^[ \t]*(\[\[[ \t]*pages[ \t]*\]\]|pages[ \t]*=)", re.MULTILINE)

#: What an issue may name: layouts, files of presets; of all else it knows nothing but names.
Known = Catalogue[TomlFile, Layout, Any, Any]


@dataclass(frozen=True)
class LoadedIssue:
    """A checked issue, the preset its pages are made by, and its pages in reading order.

    `layouts` are those that its pages may name. `font` is what labels are set in where it has the
    letters, `folio_font` printed page numbers, `series` the file of its series; None if the issue
    names none.
    """

    file: TomlFile
    issue: Issue
    preset: Preset
    preset_name: str
    preset_digest: str
    entries: tuple[PageEntry, ...]
    layouts: Layouts
    font: FontFile | None = None
    folio_font: FontFile | None = None
    series: TomlFile | None = None

    @property
    def path(self) -> Path:
        """Where its file is."""
        return self.file.path

    @property
    def direction(self) -> str:
        """``ltr`` or ``rtl``: the issue's own word, else the preset's."""
        return self.issue.direction or self.preset.direction

    @property
    def pages(self) -> int:
        """The number of the last page."""
        return self.entries[-1].numbers[-1]

    @property
    def file_name(self) -> str:
        """The beginning of every file name."""
        return issue_file_name(self.issue)

    def folder(self, out: str | Path | None = None) -> Path:
        """Where its canvases are: in `out`, by default beside its file in a folder of its name."""
        return Path(out) if out is not None else self.path.parent / self.file_name


def issue_in(path: Path) -> Path:
    """The path of an issue's file: itself, or the only issue in the folder that it names."""
    if not path.is_dir():
        return path
    files = [file for file in sorted(path.glob("*.toml")) if names_pages(file)]
    if len(files) == 1:
        return files[0]
    came = "there is no issue in this folder"
    if files:
        count, first = f"{len(files)} issues", " and ".join(file.name for file in files[:2])
        came = f"there are {count} in this folder, {first}{' and others' if files[2:] else ''}"
    allowed = "an issue's file"
    raise InputError(Problem((), came, allowed, "Name the file of the issue.", file=path))


def names_pages(file: Path) -> bool:
    """True if a file has pages, as issues have; broken ones are looked at as text.

    Raises `MachineError` if it may not be read.
    """
    return bool(_PAGES.search(file_bytes(file)))


def file_bytes(file: Path) -> bytes:
    """What a file begins with, as much as is read of one; nothing where there is no file.

    Raises `MachineError` if it may not be read.
    """
    try:
        if not file.is_file():
            return b""
        with file.open("rb") as opened:
            return opened.read(LARGEST_FILE)
    except OSError as error:
        raise MachineError.from_os(f"reading {file}", error) from None


def load(path: Path, known: Known, dpi: int | None = None) -> LoadedIssue:
    """Read and check an issue file; `dpi` replaces the preset's resolution.

    `known` is the catalogue of what it may name. Raises `InputError` with every problem of the
    file, `MachineError` if it cannot be read.
    """
    return loaded(read_toml(path), known, dpi)


def loaded(file: TomlFile, known: Known, dpi: int | None = None) -> LoadedIssue:
    """The issue in a file that was read; see `load`."""
    context = {"guides": known.guides}
    series = series_of(file, context, known.series)
    said = Said(file, series)
    if series:
        file = taken_over(file, series)
    if "preset" not in file.values and not {"drawing", "trim", "scroll"}.isdisjoint(file.values):
        came, allowed = "this is a preset and not an issue", "an issue, which names a preset"
        raise InputError(Problem((), came, allowed, f"Name {allowed}.", file.path))
    if "issues" in file.values and "pages" not in file.values:
        came, allowed = "this is a series and not an issue", "one of its issues"
        raise InputError(Problem((), came, allowed, f"Name {allowed}.", file.path))
    problems: list[Problem] = []
    issue, source, preset, more = None, None, None, 0
    try:
        issue = checked(Issue, file.values, Origin(file), context)
    except InputError as error:
        problems, more = [*error.problems], error.more
    try:
        source = _preset_source(file, said, dpi, known)
        preset = source and source.preset
    except InputError as error:
        problems, more = [*problems, *error.problems], more + error.more
    if problems or not issue or not source or not preset:
        raise InputError(problems, more)
    fonts: list[FontFile | None] = []
    places = dict.fromkeys((file.path.parent, *source.folders, *_hidden(issue.preset, known)))
    folio_font = issue.folios.font if issue.folios else None
    for name, key in ((issue.label_font, ("label_font",)), (folio_font, ("folios", "font"))):
        try:
            fonts.append(find_font(name, [*places], key) if name else None)
        except InputError as error:
            problems += error.problems
    try:
        direction = issue.direction or preset.direction
        entries = in_order(issue, preset.facing, direction)
        pages = entries[-1].numbers[-1]
        problems += binding_problems(issue, preset, pages)
        problems += cover_problems(issue, preset, pages)
    except InputError as error:
        problems += error.problems
    if problems:
        raise InputError(located(problems, said))
    layouts = with_own(known.layouts, issue, file.path.name)
    named = (issue.preset, source.digest)
    return LoadedIssue(file, issue, preset, *named, entries, layouts, fonts[0], fonts[1], series)


def _hidden(preset: str, known: Known) -> Iterator[Path]:
    """The folders of files that a preset hides; a locked one hides that of which it was made."""
    entry = known.presets.entries.get(preset)
    while entry and (entry := entry.shadows):
        with suppress(InputError, MachineError):
            yield entry.thing.path.parent


def _preset_source(
    file: TomlFile, said: Said, dpi: int | None, known: Known
) -> PresetSource | None:
    """The issue's preset with its changes; None if the file names none, which is told elsewhere."""
    name, changes = file.values.get("preset"), file.values.get("format", {})
    if not isinstance(name, str) or not isinstance(changes, dict):
        return None
    source = find_preset(name, known, file.path.parent, said.at("preset"))
    for changed in filter(None, (said.series, file)):
        changes, own = changed.values.get("format", {}), Origin(changed, ("format",))
        if "based_on" in changes:
            came = "an issue names its preset at its top"
            todo = "Write the name as preset, at the top of the file."
            problem = Problem(("based_on",), came, "preset, at the top of the file", todo)
            raise InputError(located([problem], own))
        if changes:
            source = source.changed(changes, own)
    return source if dpi is None else source.changed({"dpi": dpi}, Origin(argument="dpi"))
