"""``guidekit lock``: what an issue uses, held still."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.options import Formats, IssuePath, names_in
from guidekit.cli.say import say

#: What a lock has, and how one of it is called.
ONE = {
    "presets": "preset",
    "layouts": "layout",
    "series": "series",
    "fonts": "font",
    "guides": "guide",
    "formats": "format",
}


def lock(
    issue: IssuePath,
    update: Annotated[
        bool, typer.Option("--update", help="Lock all anew as it is now; else only what is new.")
    ] = False,
    formats: Formats = "psd",
) -> None:
    """Write what the issue uses beside it, with all values: later builds use that and no other.

    Example: guidekit lock examples/salt-road.toml
    """
    from guidekit.studio.locking import lock_issue

    with studio_of(issue) as studio:
        done = lock_issue(issue, formats=names_in(formats), update=update, known=studio)
    found = done.used.issue
    fonts = {Path(font.path) for font in (found.font, found.folio_font) if font}
    counts = [(len(done.lock[kind]), one, kind) for kind, one in ONE.items() if done.lock[kind]]
    told = ", ".join(f"{n} {one if n == 1 else kind}" for n, one, kind in counts)
    say(f"{done.path}: {told}{'' if done.is_new else ', as before'}.")
    for font in sorted(fonts):
        if not font.is_relative_to(done.path.parent.resolve()):
            todo = "Copy it there, if you may."
            say(f"Caution: the font {font.name} does not lie beside the issue. {todo}")
