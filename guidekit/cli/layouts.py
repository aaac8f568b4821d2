"""``guidekit layouts``: which named layouts there are, and how they look."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from guidekit.cli.options import AsJson
from guidekit.cli.say import print_json, say

app = typer.Typer(help="List and show named layouts.", no_args_is_help=True)


@app.command("list")
def list_(
    panels: Annotated[
        int | None, typer.Option("--panels", help="Only those with so many panels.")
    ] = None,
    as_json: AsJson = False,
) -> None:
    """List the layouts by number of panels.

    Example: guidekit layouts list --panels 5
    """
    from guidekit.issue.reading import number_of_panels
    from guidekit.shipped import shipped

    layouts = shipped().layouts
    rows = [
        {
            "name": name,
            "panels": number_of_panels(layout, layouts),
            "spread": layout.spread,
            "about": layout.about,
        }
        for name, layout in zip(layouts, layouts.things(), strict=True)
    ]
    rows = [row for row in rows if panels in (None, row["panels"])]
    rows.sort(key=lambda row: (row["panels"], row["spread"], row["name"]))
    if as_json:
        print_json({"layouts": rows})
        return
    if not rows:
        say(f"No layout has {panels} panels.")
    for row in rows:
        say(f"{row['panels']:3}  {row['name']:26} {row['about']}")


@app.command("show")
def show(
    name: Annotated[str, typer.Argument(help="A layout's name.")],
    png: Annotated[
        Path | None, typer.Option("--png", help="Write the picture to this new file.")
    ] = None,
) -> None:
    """Show a layout as a small picture, here in characters, or as a PNG file.

    Example: guidekit layouts show six-grid
    """
    from guidekit.pictures import layout_png, layout_text
    from guidekit.shipped import shipped
    from guidekit.store import write_new

    layouts = shipped().layouts
    layout = layouts.find(name)
    if png:
        write_new(png, layout_png(layout, layouts))
        say(f"{png}: {name}. {layout.about}")
        return
    say(f"{name}: {layout.about}\n{layout_text(layout, layouts)}")
