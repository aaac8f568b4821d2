"""From the file of a script to its pages and panels."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from guidekit.errors import InputError, Problem
from guidekit.issue.models.issue import MOST_PAGES
from guidekit.issue.models.part import MOST_PANELS
from guidekit.script.fountain import ScriptLine, fountain_lines
from guidekit.script.headings import headings_of
from guidekit.script.reader import MOST_IN_ALL, ScriptReader
from guidekit.script.script import Script, ScriptPage, ScriptPanel
from guidekit.script.source import lines_of

FOUNTAIN = (".fountain", ".spmd")


def read_script(path: Path) -> Script:
    """Read a script, as Fountain if its name ends so, else as plain text.

    Raises `InputError` for a script without pages and for what no issue can hold, `MachineError`.
    """
    lines, remarks = lines_of(path)
    if path.suffix.lower() in FOUNTAIN:
        title, found = fountain_lines(lines)
    else:
        title, found = "", [ScriptLine(number, text) for number, text in enumerate(lines, 1)]
    reader = ScriptReader(remarks, headings_of([line.text for line in found]))
    reader.read(found)
    if not reader.pages:
        came = "no line of this script begins a page"
        raise InputError(Problem((), came, "PAGE 1, PAGE 2 and so on, each on a line", file=path))
    _check_size(reader.pages, reader.panels, path)
    all_remarks = tuple(sorted(reader.remarks, key=lambda remark: remark.line or 0))
    return Script(path, title or reader.title, tuple(reader.pages), all_remarks)


def _check_size(pages: Sequence[ScriptPage], panels: int, path: Path) -> None:
    problems = [
        Problem(
            (),
            f"{page.called} has {len(page.panels):,} panels",
            f"at most {MOST_PANELS:,} panels on a page",
            file=path,
            line=page.line,
        )
        for page in pages
        if len(page.panels) > MOST_PANELS
    ]
    if pages[-1].number > MOST_PAGES or len(pages) > MOST_PAGES:
        allowed = f"at most {MOST_PAGES:,} pages"
        problems.append(Problem((), "these are too many pages", allowed, file=path))
    if panels > MOST_IN_ALL:
        came, allowed = f"it has {panels:,} panels", f"at most {MOST_IN_ALL:,} panels in a script"
        problems.append(Problem((), came, allowed, file=path))
    if problems:
        raise InputError(problems)


def with_panels(page: ScriptPage) -> ScriptPage:
    """The page with one panel where its script names none: a splash."""
    return page if page.panels else replace(page, panels=[ScriptPanel(page.line)])
