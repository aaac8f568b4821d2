"""``guidekit presets``: which page formats there are and what is in them."""

from __future__ import annotations

from pathlib import Path
from shlex import quote
from typing import Annotated, Any

import typer

from guidekit.cli import new_preset, packs
from guidekit.cli.around import studio_of
from guidekit.cli.complete import preset_names
from guidekit.cli.light import LightCommand, group
from guidekit.cli.options import AsJson, AsSeenFrom
from guidekit.cli.say import origin, print_json, say
from guidekit.errors import InputError, Problem

app = group(help="List, show, check and share presets.", no_args_is_help=True)


@app.command("list", cls=LightCommand)
def list_(issue: AsSeenFrom = None, as_json: AsJson = False) -> None:
    """List the presets with their sizes, and where those are from that others brought.

    Example: guidekit presets list
    """
    from guidekit.studio.lists.rows import preset_rows

    with studio_of(issue) as studio:
        rows = preset_rows(studio)
    if as_json:
        print_json({"presets": rows})
        return
    say("\n".join(map(_row, rows)))


def _row(row: dict[str, Any]) -> str:
    told = row.get("problem") or f"{row['size']:26} {row['dpi'] or '?':>5} dpi  {row['title']}"
    return f"{row['name']:26} {told}{origin(row)}"


@app.command("show")
def show(
    name: Annotated[
        str,
        typer.Argument(
            help="A preset's name, or the path of its .toml file.", autocompletion=preset_names
        ),
    ],
    issue: AsSeenFrom = None,
    as_json: AsJson = False,
) -> None:
    """Show every value in its own unit, in mm and in px, and where it comes from.

    Example: guidekit presets show us-comic
    """
    from guidekit.preset import find_preset
    from guidekit.preset.describe import chain_of, described
    from guidekit.toml import Origin

    with studio_of(issue) as studio:
        source = find_preset(name, studio.catalogue, asked=Origin())
        rows = described(source)
    if as_json:
        print_json({"name": source.name, "chain": chain_of(source), "values": rows})
        return
    say(f"{source.name}: {source.preset.title}\n{source.preset.about}".rstrip())
    if source.chain[1:]:
        say(" ← ".join(f"{link['name']} ({link['from']})" for link in chain_of(source)))
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
    from guidekit.preset.source import check_start, is_issue

    with studio_of(file if file.is_file() else None) as studio:
        source = read_preset(file, studio.catalogue)
        if is_issue(source.values):
            todo = f"Check it with: guidekit check {quote(str(file))}"
            came = "this is an issue and not a preset"
            raise InputError(Problem((), came, "a preset", todo, file))
        preset = source.preset
        check_start(source)
    say(f"{file}: {preset.title}, fit to use.")


app.command("new")(new_preset.new)
app.command("pack")(packs.pack)
app.command("add")(packs.add)
app.command("remove")(packs.remove)
app.command("diff")(packs.diff)
