"""``guidekit plugins``: packages that add to guidekit, and a new one to begin with."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from guidekit.cli.light import group
from guidekit.cli.options import AsJson
from guidekit.cli.say import print_json, say

app = group(help="List plug-ins, and begin one.")


@app.callback(invoke_without_command=True)
def _plugins(context: typer.Context) -> None:
    if context.invoked_subcommand is None:
        list_()


@app.command("list")
def list_(as_json: AsJson = False) -> None:
    """List what is installed, what each package brings, whether it loads and how long that took.

    Example: guidekit plugins list
    """
    from guidekit.plugins.catalogue import allowed
    from guidekit.plugins.installed import installed
    from guidekit.plugins.report import reported
    from guidekit.shipped import shipped
    from guidekit.studio.settings.config import settings

    found = installed()
    ours = (shipped().guides, shipped().writers)
    rows = reported(found, allowed(found, settings().plugins), ours)
    if as_json:
        print_json({"plugins": rows})
    elif not rows:
        say("No plug-in is installed.")
    else:
        say("\n".join(line for row in rows for line in _lines(row)))
    if any("problem" in part for row in rows for part in row["parts"]):
        raise typer.Exit(2)


def _lines(row: dict[str, Any]) -> list[str]:
    off = "" if row["allowed"] else " Not used: the settings do not name it."
    lines = [f"{row['name']} {row['version']}: {row['about']}.{off}"]
    for part in row["parts"]:
        took = f"{part['seconds'] * 1000:.0f} ms" if "seconds" in part else ""
        lines.append(f"  {part['kind']:7} {part['name']:26} {part.get('problem', took)}".rstrip())
    return lines


@app.command("new")
def new(
    name: Annotated[str, typer.Argument(help="The name of the package.", metavar="NAME")],
    folder: Annotated[
        Path | None, typer.Option("--out", "-o", help="A new folder; by default the name.")
    ] = None,
) -> None:
    """Begin a plug-in: a package with a preset, a layout, a guide, a format and their tests.

    Example: guidekit plugins new ink_tools
    """
    from guidekit.plugins.start import new_plugin

    folder = folder or Path(name)
    files = new_plugin(name, folder)
    say(f"{folder}: {len(files)} files. Next: pip install -e '{folder}[test]' && pytest {folder}")
