"""What ``build``, ``measure`` and ``refresh --json`` print: one JSON object a line, as it happens.

The lines are `guidekit.schema.events`; a line that is new or says more leaves `VERSION` as it is.
"""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Sequence
from contextvars import ContextVar
from io import UnsupportedOperation
from pathlib import Path
from typing import TYPE_CHECKING, Any, ClassVar, Literal, TextIO

import typer

from guidekit.cli.say import first_problems, harmless
from guidekit.errors import InputError, MachineError, told

if TYPE_CHECKING:
    from guidekit.build import BuildReport, Done
    from guidekit.drawn.refreshing.refresh_report import Refreshed, RefreshReport

VERSION: Literal[1] = 1
STREAMS = ("build", "measure", "refresh")

#: Where lines go; None as long as nothing else is kept from there.
LINES: ContextVar[TextIO | None] = ContextVar("lines", default=None)


def is_stream(arguments: Sequence[str]) -> bool:
    """True if a command line asks for lines as things happen."""
    command = next((word for word in arguments if not word.startswith("-")), "")
    return command in STREAMS and "--json" in arguments


def keep_apart() -> None:
    """Leave standard output to the lines alone: what others print there goes to standard error.

    Plug-ins may print, and so may programs that they start.
    """
    try:
        ours = os.dup(sys.stdout.fileno())
        os.dup2(sys.stderr.fileno(), sys.stdout.fileno())
    except UnsupportedOperation:  # a program that runs us in its own process collects the lines
        LINES.set(sys.stdout)
        return
    LINES.set(os.fdopen(ours, "w", encoding=sys.stdout.encoding, errors="backslashreplace"))


def tell(event: str, **more: Any) -> None:
    """One line on standard output, at once. Raises `MachineError` where it is full or gone.

    What works on a folder meanwhile would take an `OSError` for one of its own.
    """
    out = LINES.get() or sys.stdout
    try:
        typer.echo(harmless(json.dumps({"event": event, **more}, ensure_ascii=False)), out)
        out.flush()
    except OSError as error:
        raise MachineError.from_os("writing the output", error) from None


def tell_warning(text: str) -> None:
    """A caution, or what was left out."""
    tell("warning", text=text)


def tell_end(error: BaseException, text: str, code: int) -> None:
    """What ended a command early: a line for each problem, and the last line."""
    if isinstance(error, InputError):
        problems, more = first_problems(error)
        for problem in problems:
            tell("error", **problem.as_data())
        if more:
            tell("error", told=told((), more))
    else:
        notes: list[str] = getattr(error, "__notes__", [])
        tell("error", told=" ".join([text, *notes]))
    tell("finished", exit=code, complete=False)


def tell_start(command: str, issue: str, **more: Any) -> None:
    """The first line: of what the others will tell."""
    tell("started", version=VERSION, command=command, issue=issue, **more)


class Events:
    """Tells of work on an issue as it goes on, if that is `wanted`."""

    command: ClassVar[str]
    counted: ClassVar[str]  # what there is so much of in all

    def __init__(self, issue: str, wanted: bool):
        self.issue, self.wanted, self.done, self.total = issue, wanted, 0, 0

    def started(self, folder: Path, total: int) -> None:
        """All is found and fit."""
        self.total = total
        if self.wanted:
            tell_start(self.command, self.issue, folder=str(folder), **{self.counted: total})


class BuildEvents(Events):
    """Tells of a build."""

    command, counted = "build", "canvases"

    def page_done(self, page: Done) -> None:
        """All files of a canvas are settled."""
        self.done += 1
        if not self.wanted:
            return
        names = {"canvas": page.canvas, "pages": page.pages, "part": page.part}
        tell("page", **names, done=self.done, of=self.total, files=page.files)
        for name, what in page.files.items():
            if what not in ("written", "unchanged"):
                tell("kept", file=name, why=what)

    def finished(self, report: BuildReport) -> None:
        """The last lines."""
        for caution in report.cautions:
            tell_warning(caution)
        more = {"left_over": report.left_over, "sizes": report.sizes}
        tell("finished", exit=0 if report.complete else 1, complete=report.complete, **more)


class RefreshEvents(Events):
    """Tells of a refresh."""

    command, counted = "refresh", "files"

    def file_done(self, file: Refreshed) -> None:
        """What became of a file is settled."""
        self.done += 1
        if self.wanted:
            tell("refresh", **file_data(file), done=self.done, of=self.total)

    def all_done(self, report: RefreshReport) -> None:
        """All of it at once, where files are put back."""
        self.started(report.folder, len(report.files))
        for file in report.files:
            self.file_done(file)

    def finished(self, report: RefreshReport) -> None:
        """The last line."""
        tell("finished", exit=0 if report.complete else 1, complete=report.complete)


def file_data(file: Refreshed) -> dict[str, Any]:
    """What became of a file that was to get today's guides, as plain data."""
    return {
        "name": file.name,
        "pages": file.pages,
        "outcome": file.outcome,
        "why": file.why,
        "changed": file.changed,
        "notes": file.notes,
        "kept": file.kept,
    }
