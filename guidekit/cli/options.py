"""What several commands share: arguments, options and the reading of page ranges."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from guidekit.cli.complete import format_names
from guidekit.errors import InputError, Problem, shown

if TYPE_CHECKING:
    from guidekit.toml import TomlFile

IssuePath = Annotated[
    Path, typer.Argument(help="The issue's TOML file, or the folder of one.", metavar="ISSUE")
]
IssuesPath = Annotated[
    Path,
    typer.Argument(
        help="The issue's TOML file, its folder, or a series for all its issues.", metavar="ISSUE"
    ),
]
Pages = Annotated[
    str | None, typer.Option("--pages", help="Only these pages, as in 3-8, 1,4-6 or 12-.")
]
Formats = Annotated[
    str,
    typer.Option(
        "--format",
        help="Formats with commas; guidekit formats lists them.",
        autocompletion=format_names,
    ),
]
AsSeenFrom = Annotated[
    Path | None,
    typer.Option(
        "--issue", exists=True, help="As seen from this issue: what lies beside it counts first."
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON for programs to read.")]


def _dpi(text: str) -> int:
    """``"300"`` or ``"300dpi"`` → 300."""
    found = re.fullmatch(r"\s*(\d{1,9})\s*(?:dpi)?\s*", text, re.ASCII | re.IGNORECASE)
    if not found:
        came = f"{shown(text)} is not a resolution"
        allowed = "a whole number of pixels to the inch, as in 300"
        raise InputError(Problem((), came, allowed, argument="dpi"))
    return int(found[1])


def _count_of(what: str, about: str) -> Any:
    """An option that is called what it counts, as ``--pages 24``."""

    def read(text: str) -> int:
        if not re.fullmatch(r"\s*-?\d{1,9}\s*", text, re.ASCII):
            came, allowed = f"{shown(text)} is not a number of {what}", "a whole number, as in 6"
            raise InputError(Problem((), came, allowed, argument=what))
        return int(text)

    return typer.Option(f"--{what}", parser=read, help=about, metavar="NUMBER")


Dpi = Annotated[
    int | None,
    typer.Option("--dpi", parser=_dpi, help="Another resolution than the preset's.", metavar="DPI"),
]

PageCount = Annotated[
    int | None, _count_of("pages", "How many pages; without it what suits the format.")
]
PanelCount = Annotated[int | None, _count_of("panels", "Only those with so many panels.")]


def issue_given(path: Path) -> Path | TomlFile:
    """The path of an issue, or the text of one from standard input where that is ``-``."""
    if str(path) != "-":
        return path
    from guidekit.toml import toml_in
    from guidekit.toml.file import LARGEST_FILE

    text = sys.stdin.buffer.read(LARGEST_FILE + 1)
    if len(text) > LARGEST_FILE:
        raise InputError(Problem((), "there is too much on standard input", "an issue"))
    return toml_in(Path("standard input"), text.removeprefix(b"\xef\xbb\xbf"))


def names_in(text: str) -> list[str]:
    """``"psd, png"`` → psd, png."""
    return [name.strip() for name in text.rstrip(",").split(",")]


def page_numbers(text: str | None) -> Callable[[int], set[int]] | None:
    """The pages of ``"1,4-6"``, ``"3-"`` or ``"-5"``, from the number of the last one.

    None stays None. Raises `InputError`.
    """
    if text is None:
        return None
    ranges = [_range(part.strip()) for part in text.split(",")]

    def chosen(last: int) -> set[int]:
        return {n for first, end in ranges for n in range(first, (end or max(first, last)) + 1)}

    return chosen


def _range(text: str) -> tuple[int, int | None]:
    """The first and the last page; None for that of the issue."""
    found = re.fullmatch(r"(\d{0,5})\s*([-–]?)\s*(\d{0,5})", text, re.ASCII)
    if not found or not (found[1] or found[3]):
        allowed = "page numbers and ranges, as in 3-8, 1,4-6 or 12-"
        raise InputError(Problem((), f"{shown(text)} is not a page", allowed, argument="pages"))
    first = int(found[1] or 1)
    end = int(found[3]) if found[3] else None if found[2] else first
    if end is not None and end < first:
        came, todo = f"{first}-{end} runs backward", f"Write {end}-{first}."
        raise InputError(Problem((), came, "the smaller number first", todo, argument="pages"))
    return first, end
