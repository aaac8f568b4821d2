"""What the command line says: text, JSON and errors, with nothing in it that steers a terminal."""

from __future__ import annotations

import json
import re
import shutil
import sys
import textwrap
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import replace
from shlex import quote
from typing import Any

import typer

from guidekit.errors import MOST_TOLD, GuidekitError, InputError, Problem, told
from guidekit.wording import Wording

#: How parameters of the library are called on the command line.
OPTIONS = {
    "after": "--after",
    "canvases": "--canvases",
    "bleed": "--bleed",
    "border": "--border",
    "dpi": "--dpi",
    "formats": "--format",
    "gutter": "--gutter",
    "layers": "--layers",
    "like": "--like",
    "out": "--out",
    "pages": "--pages",
    "panels": "--panels",
    "paper": "--paper",
    "per_sheet": "--per-sheet",
    "plugins": "--plugins",
    "preset": "--preset",
    "safe_area": "--safe-area",
    "title": "--title",
    "to": "--to",
    "trim": "--trim",
    "update": "--update",
}

#: The commands that do what functions of the library do; none for what all of them begin with.
COMMANDS = {
    "layout_rows": "layouts list",
    "follow_pages": "move --by-hand",
    "lock_issue": "lock",
    "studio": "",
}

#: Control characters but the line break, marks and brackets of direction (Unicode Standard
#: Annex 9), separators of lines, and what shows nothing and hides something.
_STEERING = re.compile(
    "[\0-\x09\x0b-\x1f\x7f-\x9f\xad\u061c\u180e\u200b\u200e\u200f\u2028-\u202e\u2060-\u206f"
    "\ufeff\ufff9-\ufffb\U000e0000-\U000e0fff]"
)


class Typed(Wording):
    """As one types it."""

    def parameter(self, name: str, value: object = None) -> str:
        """An option, and the value to give it: ``--pages 4``, ``--no-plugins``."""
        option = OPTIONS.get(name, name)
        if isinstance(value, bool):
            return option if value else option.replace("--", "--no-", 1)
        if isinstance(value, Iterable) and not isinstance(value, str):
            value = ",".join(map(str, value))
        return option if value is None else f"{option} {quote(str(value))}"

    def call(self, function: str, *given: str, **values: object) -> str:
        """A command: ``guidekit lock salt-road.toml --update``."""
        options = (self.parameter(name, value) for name, value in values.items())
        words = ["guidekit", COMMANDS[function], *map(quote, given), *options]
        return " ".join(filter(None, words))


def harmless(text: str) -> str:
    r"""Text with what could steer a terminal written as JSON escapes it: ``\u001b``."""
    return _STEERING.sub(lambda found: json.dumps(found[0])[1:-1].replace("\x7f", "\\u007f"), text)


def say(text: str, err: bool = False) -> None:
    """A line or lines on standard output, or on standard error; on a terminal none is too long."""
    stream = sys.stderr if err else sys.stdout
    lines = harmless(text).split("\n")
    if stream.isatty():
        width = shutil.get_terminal_size().columns
        lines = [part for line in lines for part in _broken(line, width)]
    typer.echo("\n".join(lines), err=err)


def _broken(line: str, width: int) -> list[str]:
    """A line broken between words, the parts after the first set in by two more spaces."""
    if len(line) <= width:
        return [line]
    indent = " " * (len(line) - len(line.lstrip()) + 2)
    parts = textwrap.wrap(
        line, width, subsequent_indent=indent, break_long_words=False, break_on_hyphens=False
    )
    return parts or [line]


def print_json(data: dict[str, Any], err: bool = False) -> None:
    """Data on standard output, any script as it is; lists of tables with one entry a line."""
    parts = []
    for key, value in data.items():
        if isinstance(value, list) and value and isinstance(value[0], dict):
            text = "[\n" + ",\n".join(f"  {_compact(item)}" for item in value) + "\n]"
        else:
            text = _compact(value)
        parts.append(f"{_compact(key)}: {text}")
    typer.echo(harmless("{" + ",\n ".join(parts) + "}"), err=err)


def print_each(rows: list[dict[str, Any]]) -> None:
    """What is told of one issue by itself, of several in a list."""
    print_json({"issues": rows} if rows[1:] else rows[0])


def say_error(error: GuidekitError, as_json: bool) -> None:
    """What went wrong, on standard error; parameters as options, which is what was typed."""
    if not isinstance(error, InputError):
        say_failure(str(error), error, as_json)
        return
    problems, more = first_problems(error)
    if as_json:
        data = {"problems": [problem.as_data() for problem in problems], "more": more}
        print_json(data, err=True)
    else:
        say(f"guidekit: {told(problems, more)}", err=True)


def first_problems(error: InputError) -> tuple[list[Problem], int]:
    """The problems that are told, their parameters as options, and how many more there are."""
    first = error.problems[:MOST_TOLD]
    typed = [replace(x, argument=OPTIONS.get(x.argument, x.argument)) for x in first]
    return typed, error.more + len(error.problems) - len(first)


def say_failure(text: str, error: BaseException, as_json: bool) -> None:
    """What failed, on standard error, and what the notes of `error` say was done until then."""
    notes: list[str] = getattr(error, "__notes__", [])
    with suppress(OSError):  # nobody listens
        if as_json:
            print_json({"failure": text, "notes": notes}, err=True)
        else:
            say("\n".join([f"guidekit: {text}", *notes]), err=True)


def origin(row: dict[str, Any]) -> str:
    """Where a row of a list is from, and what it hides; nothing of what comes with guidekit."""
    if row["from"].partition(",")[0] == "guidekit":
        return ""
    hidden = f", in place of that from {' and '.join(row['shadows'])}" if "shadows" in row else ""
    return f"  ({row['from']}{hidden})"


def _compact(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False)
