"""The first text file of a new issue."""

from __future__ import annotations

import json
from dataclasses import replace
from os.path import relpath
from pathlib import Path
from shlex import quote

from guidekit.errors import InputError, Problem, WrongValueError
from guidekit.issue.models.issue import MOST_PAGES
from guidekit.preset import Preset, find_preset
from guidekit.preset.source import Known
from guidekit.store.files import write_new
from guidekit.toml.model import checked_name

HEAD = """\
# {title}: change what you like, then run  {build}  in this folder.

title  = {quoted}
preset = {preset}
"""

PAGES = """
# Every page has panels: a named layout, or tiers from top to bottom with so many panels each, as in
# tiers = [2, 3, 1].  guidekit layouts list  shows the layouts.
"""

SCROLL = """
# A page is a scroll, from the top down: each panel with its height, or its width to its height, and
# the gap above it: "close", "normal", "scene" or a length.
"""

EPISODE = """
[[pages]]
scroll = [
  { height = "1 screen", full = true },
  { ratio = "3:2", gap = "scene" },
  { ratio = "1:1", gap = "close" },
  { ratio = "4:5" },
]
"""


def new_issue(
    folder: Path,
    known: Known,
    *,
    preset: str,
    pages: int | None = None,
    title: str | None = None,
    body: str = "",
) -> tuple[Path, int]:
    """Write a new issue file into `folder`; its path, and how many pages it has.

    What is on them, and how many they are if `pages` is None, the preset's ``[start]`` says, unless
    `body` has them as the file writes them.
    Raises `InputError` if the preset is unknown, the number of pages absurd, the file there, or
    `folder` a file or called like one.
    """
    if folder.is_file() or folder.suffix == ".toml":
        came = f"{folder.name} is the name of a file"
        allowed = "a folder, there or still to be made"
        name = folder.with_suffix("") if folder.suffix == ".toml" else allowed
        raise InputError(Problem((), came, allowed, f"Name {name}."))
    if pages is not None and not 1 <= pages <= MOST_PAGES:
        came = f"{pages} is not a number of pages"
        raise InputError(Problem((), came, f"1 to {MOST_PAGES:,} pages", argument="pages"))
    page_format = find_preset(preset, known).preset
    pages = pages or page_format.start.pages
    name = folder.resolve().name or "issue"
    if title is None:
        title = name.replace("-", " ").replace("_", " ").strip().title()
    _check_name(title, "title")
    _check_name(name, "folder")
    path = folder / f"{name}.toml"
    if preset.endswith(".toml"):  # from the issue's folder, as the issue will look for it
        preset = Path(relpath(preset, folder)).as_posix()
        _check_name(preset, "preset")
    build = f"guidekit build {quote(path.name)}"
    text = HEAD.format(title=title, build=build, quoted=_quoted(title), preset=_quoted(preset))
    write_new(path, (text + (body or _pages(page_format, pages))).encode())
    return path, pages


def _pages(page_format: Preset, pages: int) -> str:
    """The pages of a new issue, as its file writes them."""
    if page_format.scroll:
        return SCROLL + EPISODE * pages
    start = page_format.start
    if start.first == start.others:
        return PAGES + _entry(start.first, pages)
    return PAGES + _entry(start.first, 1) + (_entry(start.others, pages - 1) if pages > 1 else "")


def _entry(layout: str, count: int) -> str:
    alike = f"count = {count}\n" if count > 1 else ""
    return f"\n[[pages]]\n{alike}panels = {_quoted(layout)}\n"


def _check_name(text: str, argument: str) -> None:
    try:
        checked_name(text)
    except WrongValueError as error:
        raise InputError(replace(x, argument=argument) for x in error.problems) from None


def _quoted(text: str) -> str:
    """A TOML basic string; TOML shares JSON's escapes."""
    return json.dumps(text, ensure_ascii=False)
