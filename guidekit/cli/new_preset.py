"""``guidekit presets new``: a page format from answers, or from a finished canvas."""

from __future__ import annotations

import sys
from pathlib import Path
from shlex import quote
from typing import Annotated

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.options import Dpi
from guidekit.cli.say import say
from guidekit.errors import InputError, Problem

LengthText = Annotated[str | None, typer.Option(help="A length, as in 3 mm.")]


def new(
    name: Annotated[str, typer.Argument(help="The name of the new preset.", metavar="NAME")],
    canvas: Annotated[
        Path | None,
        typer.Option("--from", help="A finished canvas: PSD, OpenRaster, PNG or TIFF."),
    ] = None,
    spread: Annotated[
        bool | None,
        typer.Option(
            "--spread/--single",
            help="Whether that canvas is two facing pages; without it that is guessed.",
        ),
    ] = None,
    trim: Annotated[
        str | None, typer.Option("--trim", help='The finished page, as in "6.625 x 10.25 in".')
    ] = None,
    dpi: Dpi = None,
    bleed: LengthText = None,
    safe_area: LengthText = None,
    gutter: LengthText = None,
    border: LengthText = None,
    title: Annotated[str | None, typer.Option("--title", help="By default the name.")] = None,
) -> None:
    """Write a preset from answers or from a finished canvas, with where each value comes from.

    On a terminal it asks for what is not given.

    Example: guidekit presets new our-book --trim "6 x 9 in"
    """
    from guidekit.store.files import write_new
    from guidekit.studio.proposing.guessed import proposed
    from guidekit.studio.proposing.preset_text import DEFAULTS, answered, preset_text

    path = Path(name if name.endswith(".toml") else f"{name}.toml")
    title = title or path.stem.replace("-", " ").replace("_", " ").strip().title()
    given = {"bleed": bleed, "safe_area": safe_area, "gutter": gutter, "border": border}
    if canvas:
        beside = [key for key, value in {"trim": trim, "dpi": dpi, **given}.items() if value]
        if beside:
            came, todo = "a canvas with --from has its own", "Leave it out, and change the file."
            raise InputError([Problem((), came, todo=todo, argument=key) for key in beside])
        with studio_of() as studio:
            rows = proposed(canvas, studio.catalogue, spread)
    else:
        if spread is not None:
            came, todo = "--spread and --single are for a canvas", "Write --from and one as well."
            raise InputError(Problem((), came, todo=todo))
        asks = sys.stdin.isatty()
        if not trim and asks:
            trim = typer.prompt("Trim, the finished page", default="6.625 x 10.25 in", err=True)
        if not trim:
            allowed = 'its size, as in --trim "6.625 x 10.25 in", or a canvas with --from'
            raise InputError(Problem((), "the finished page has no size", allowed, argument="trim"))
        for key, (usual, _) in DEFAULTS.items():
            if given[key] is None and asks:
                given[key] = typer.prompt(
                    key.replace("_", " ").capitalize(), default=usual, err=True
                )
        rows = answered(trim, dpi or 600, given)
    write_new(path, preset_text(title, rows).encode())
    guessed = [row.key for row in rows if row.note.startswith("guessed")]
    told = f" Guessed: {', '.join(guessed)}." if guessed else ""
    say(f"{path}: {title}.{told} Next: guidekit presets check {quote(str(path))}")
