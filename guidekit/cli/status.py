"""``guidekit status``: what became of every page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.options import AsJson, Dpi, IssuesPath
from guidekit.cli.say import print_each, say
from guidekit.wording import parameter

if TYPE_CHECKING:
    from guidekit.drawn.standing.status_report import FileState, StatusReport

Out = Annotated[
    Path | None,
    typer.Option("--out", "-o", help="The folder; by default beside the issue's file."),
]
MOST_ROWS = 40  # of one state; a scroll of files helps nobody

ABOUT = {
    "empty": "as written",
    "drawn": "drawn on, guides as of now",
    "behind": "drawn on, older guides",
    "unknown": "not guidekit's",
    "left over": "no page of the issue any more",
    "missing": "not there",
}


def status(issue: IssuesPath, out: Out = None, dpi: Dpi = None, as_json: AsJson = False) -> None:
    """Tell of every page whether it is drawn on, and whether its guides are those of now.

    Example: guidekit status examples/salt-road.toml --out pages
    """
    from guidekit.issue.several import apart, for_each, issues_at

    def status_of(issue: Path) -> StatusReport:
        from guidekit.drawn.standing.status import status_issue

        with studio_of(issue) as studio:
            known = studio.catalogue
            place = out and out / apart(issue, issues, known)
            return status_issue(issue, place, dpi=dpi, catalogue=known)

    issues = issues_at(issue)
    reports = for_each(issues, status_of)
    if as_json:
        print_each([_as_data(report) for report in reports])
        return
    for report in reports:
        _tell(report)


def _as_data(report: StatusReport) -> dict[str, Any]:
    rows = [
        {
            "name": file.name,
            "state": file.state,
            "canvas": file.canvas,
            "pages": file.pages,
            "changed": file.changed,
            "moved_to": file.moved_to,
        }
        for file in report.files
    ]
    return {
        "folder": str(report.folder),
        "canvases": report.canvases,
        "counts": dict(report.counts),
        "files": rows,
        "beside": report.beside,
        "renamed": report.renamed,
        "elsewhere": [str(folder) for folder in report.elsewhere],
    }


def _tell(report: StatusReport) -> None:
    say(f"{report.folder.resolve()}: {_count(report.canvases)} of the issue.")
    for state, about in ABOUT.items():
        files = [file for file in report.files if file.state == state]
        if files:
            say(f"  {state:9} {len(files):5}  {about}{_pages(files)}")
            _list_changes(files)
    if report.beside:
        say(f"  {'beside':9} {len(report.beside):5}  other files of the same names")
        for name in report.beside[:MOST_ROWS]:
            say(f"    {name}")
    for hint in hints(report):
        say(f"  {hint}")


def hints(report: StatusReport) -> Iterator[str]:
    """Where drawings are that do not have the name of the issue, and what to do about it."""
    if report.renamed:
        yield _to_follow_name(report)
    if report.elsewhere:
        yield in_old_folders(report.elsewhere)


def in_old_folders(folders: Sequence[Path]) -> str:
    """How to work on pages in the folder of a name that the issue had."""
    names = [str(folder) for folder in folders]
    return (
        f"Pages of this issue lie in {few(names)}, called as the issue once was: "
        f"{parameter('out', names[0])} means those."
    )


def _to_follow_name(report: StatusReport) -> str:
    files = f"{len(report.renamed)} file{'' if len(report.renamed) == 1 else 's'}"
    return (
        f"The issue's name has changed since {files} got theirs: {report.follow} "
        "lets them follow it."
    )


def _count(canvases: int) -> str:
    return f"{canvases} canvas{'' if canvases == 1 else 'es'}"


def _pages(files: list[FileState]) -> str:
    """``: pages 1, 4-6``, or nothing where a file is of no page."""
    numbers = sorted({number for file in files for number in file.pages})
    if not numbers:
        return ""
    return f": page{'s' if len(numbers) > 1 else ''} {ranges(numbers)}"


def ranges(numbers: list[int]) -> str:
    """Sorted numbers as people write them: ``1, 4-6``."""
    parts: list[list[int]] = []
    for number in numbers:
        if parts and parts[-1][-1] == number - 1:
            parts[-1][1:] = [number]
        else:
            parts.append([number])
    return ", ".join("-".join(map(str, part)) for part in parts)


def _list_changes(files: list[FileState]) -> None:
    """What is to be said of files, one a line; what is the same of several only once."""
    told: dict[tuple[str, ...], list[str]] = {}
    for file in files:
        if file.changed or file.state in ("unknown", "left over"):
            told.setdefault(tuple(file.changed), []).append(file.name)
    rows = told.pop((), []) + [f"{few(same)}: {', '.join(what)}" for what, same in told.items()]
    for row in rows[:MOST_ROWS]:
        say(f"    {row}")
    if rows[MOST_ROWS:]:
        say(f"    and {len(rows) - MOST_ROWS} more")


def summary(report: StatusReport) -> list[str]:
    """Where one stands in a few lines; none where every file is there and empty."""
    if set(report.counts) <= {"empty"} and not report.beside:
        return []
    counts = ", ".join(f"{count} {state}" for state, count in report.counts.items())
    lines = [f"{_count(report.canvases)}: {counts}."]
    if behind := report.of("behind"):
        words = few(dict.fromkeys(word for file in behind for word in file.changed), "; ")
        lines.append(f"Behind: {few(file.name for file in behind)} ({words}).")
    others = [*(file.name for state in ("unknown", "left over") for file in report.of(state))]
    if others := [*others, *report.beside]:
        lines.append(f"Not pages of this build: {few(others)}.")
    return [*lines, *hints(report)]


def few(words: Iterable[str], between: str = ", ") -> str:
    """The first three, and how many more there are."""
    every = [*words]
    more = f" and {len(every) - 3} more" if every[3:] else ""
    return between.join(every[:3]) + more
