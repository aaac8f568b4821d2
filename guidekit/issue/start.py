"""The first text file of a new issue."""

from __future__ import annotations

import json
from os.path import relpath
from pathlib import Path
from shlex import quote

from guidekit.errors import InputError, Problem, shown
from guidekit.issue.model import MOST_PAGES
from guidekit.preset import shipped_registry
from guidekit.store import write_new
from guidekit.toml_file import checked_name

TEXT = """\
# {title}: change what you like, then run  {build}

title  = {quoted}
preset = {preset}

# Every page has panels: a named layout, or tiers from top to bottom with so many panels each.

[[pages]]
panels = "splash"
"""

MORE = """
[[pages]]
count = {count}
tiers = [2, 3, 1]
"""


def new_issue(folder: Path, *, preset: str, pages: int, title: str | None = None) -> Path:
    """Write a new issue file into `folder` and return its path.

    Raises `InputError` if the preset is unknown, the number of pages absurd or the file there.
    """
    if not 1 <= pages <= MOST_PAGES:
        raise InputError(Problem("--pages", f"got {pages}", f"1 to {MOST_PAGES:,} pages"))
    shipped_registry().source(preset, where="--preset")
    name = folder.resolve().name or "issue"
    if title is None:
        title = name.replace("-", " ").replace("_", " ").strip().title()
    _check_name(title, "--title")
    _check_name(name, "the folder's name")
    path = folder / f"{name}.toml"
    if preset.endswith(".toml"):  # from the issue's folder, as the issue will look for it
        preset = Path(relpath(preset, folder)).as_posix()
    build = f"guidekit build {quote(str(path))}"
    text = TEXT.format(title=title, build=build, quoted=_quoted(title), preset=_quoted(preset))
    if pages > 1:
        text += MORE.format(count=pages - 1)
    write_new(path, text.encode())
    return path


def _check_name(text: str, where: str) -> None:
    try:
        checked_name(text)
    except ValueError as error:
        raise InputError(Problem(where, f"got {shown(text)}", str(error))) from None


def _quoted(text: str) -> str:
    """A TOML basic string; TOML shares JSON's escapes."""
    return json.dumps(text, ensure_ascii=False)
