"""``guidekit presets``: which page formats there are and what is in them."""

from __future__ import annotations

from pathlib import Path
from shlex import quote
from typing import Annotated, Any

import typer

from guidekit.cli.light import LightCommand, LightGroup
from guidekit.cli.options import AsJson
from guidekit.cli.say import print_json, say
from guidekit.errors import InputError, Problem

app = typer.Typer(cls=LightGroup, help="List, show and check presets.", no_args_is_help=True)


@app.command("list", cls=LightCommand)
def list_(as_json: AsJson = False) -> None:
    """List the presets with their sizes.

    Example: guidekit presets list
    """
    from guidekit.listing import shipped_rows

    rows = shipped_rows()["presets"]
    if as_json:
        print_json({"presets": rows})
        return
    for row in rows:
        say(f"{row['name']:26} {row['size']:26} {row['dpi']:>5} dpi  {row['title']}")


@app.command("show")
def show(
    name: Annotated[str, typer.Argument(help="A preset's name, or the path of its .toml file.")],
    as_json: AsJson = False,
) -> None:
    """Show every value in its own unit, in mm and in px, and where it comes from.

    Example: guidekit presets show us-comic
    """
    from guidekit.preset import find_preset
    from guidekit.preset.describe import described
    from guidekit.shipped import shipped
    from guidekit.toml import Origin

    source = find_preset(name, shipped(), asked=Origin())
    rows = described(source)
    if as_json:
        print_json({"name": source.name, "values": rows})
        return
    say(f"{source.name}: {source.preset.title}\n{source.preset.about}".rstrip())
    for row in rows:
        say(_line(row))
    if source.preset.caution:
        say(f"Caution: {source.preset.caution}")


def _line(row: dict[str, Any]) -> str:
    value = row["value"]
    if "px" in row:
        value = f"{value:12} {row['mm']:>9} mm {row['px']:>9} px"
    return f"  {row['key']:22} {value:38}  {row['from']}"


@app.command("check")
def check(
    file: Annotated[Path, typer.Argument(help="The preset's .toml file.", metavar="FILE")],
) -> None:
    """Check a preset file and tell every problem at once.

    Example: guidekit presets check presets/us-comic.toml
    """
    from guidekit.preset import read_preset
    from guidekit.shipped import shipped

    source = read_preset(file, shipped())
    if "preset" in source.values and isinstance(source.values.get("pages"), list):
        todo = f"Check it with: guidekit check {quote(str(file))}"
        problem = Problem((), "this is an issue and not a preset", "a preset", todo, file)
        raise InputError(problem)
    preset = source.preset
    say(f"{file}: {preset.title}, fit to use.")
