"""``guidekit formats``: what a build can write."""

from __future__ import annotations

import typer

from guidekit.cli.options import AsJson, print_json


def formats(as_json: AsJson = False) -> None:
    """List the file formats that build can write.

    Example: guidekit formats
    """
    from guidekit.writers import WRITERS, writer_called

    rows = [{"name": name, "about": writer_called(name).about} for name in WRITERS]
    if as_json:
        print_json({"formats": rows})
        return
    for row in rows:
        typer.echo(f"{row['name']:12} {row['about']}")
