"""``guidekit layouts``: which named layouts there are, and how they look."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path
from typing import Annotated

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.complete import layout_names
from guidekit.cli.light import LightCommand, group
from guidekit.cli.options import AsJson, AsSeenFrom, PanelCount
from guidekit.cli.say import origin, print_json, say

app = group(help="List and show named layouts.", no_args_is_help=True)


@app.command("list", cls=LightCommand)
def list_(
    panels: PanelCount = None,
    issue: AsSeenFrom = None,
    as_json: AsJson = False,
) -> None:
    """List the layouts by number of panels.

    Example: guidekit layouts list --panels 5
    """
    from guidekit.studio.lists.rows import layout_rows

    with studio_of(issue) as studio:
        rows = layout_rows(studio)
    rows = [row for row in rows if panels in (None, row["panels"])]
    if as_json:
        print_json({"layouts": rows})
        return
    if not rows:
        say(f"No layout has {panels} panels.")
    for number, same in groupby(rows, key=lambda row: row["panels"]):
        say(f"{number} panel{'' if number == 1 else 's'}")
        for row in same:
            say(f"  {row['name']:26} {row.get('problem') or row['about']}{origin(row)}")


@app.command("show")
def show(
    name: Annotated[str, typer.Argument(help="A layout's name.", autocompletion=layout_names)],
    png: Annotated[
        Path | None, typer.Option("--png", help="Write the picture to this new file.")
    ] = None,
    issue: AsSeenFrom = None,
) -> None:
    """Show a layout as a small picture, here in characters, or as a PNG file.

    Example: guidekit layouts show six-grid
    """
    from guidekit.pictures import layout_png, layout_text
    from guidekit.store.files import write_new

    with studio_of(issue) as studio:
        layouts = studio.catalogue.layouts
        layout = layouts.find(name)
        if png:
            write_new(png, layout_png(layout, layouts))
            say(f"{png}: {name}. {layout.about}".rstrip())
            return
        called = f"{name}: {layout.about}" if layout.about else name
        say(f"{called}\n{layout_text(layout, layouts)}")
