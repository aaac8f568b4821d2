"""What several commands share: arguments, options and the reading of page ranges."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Annotated

import typer

from guidekit.errors import InputError, Problem, shown

IssuePath = Annotated[Path, typer.Argument(help="The issue's TOML file.", metavar="ISSUE")]
Pages = Annotated[
    str | None, typer.Option("--pages", help='Only these pages, as in "3-8" or "1,4-6".')
]
Dpi = Annotated[
    int | None,
    typer.Option("--dpi", min=1, max=10_000, help="Another resolution than the preset's."),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON for programs to read.")]


def page_numbers(text: str | None) -> set[int] | None:
    """``"1,4-6"`` → {1, 4, 5, 6}; None stays None. Raises `InputError`."""
    if text is None:
        return None
    numbers: set[int] = set()
    for part in text.split(","):
        found = re.fullmatch(r"\s*(\d{1,5})(?:\s*-\s*(\d{1,5}))?\s*", part)
        first, last = (int(found[1]), int(found[2] or found[1])) if found else (1, 0)
        if last < first:
            came = f"{shown(text)} does not name pages"
            allowed = "page numbers and ranges, as in 3-8 or 1,4-6"
            raise InputError(Problem((), came, allowed, argument="pages"))
        numbers.update(range(first, last + 1))
    return numbers
