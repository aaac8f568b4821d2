"""The command line: one module a command, errors turned into exit codes here and nowhere else."""

from __future__ import annotations

import atexit
import gc
import os
import signal
import sys
from io import TextIOWrapper
from typing import Annotated, NoReturn

import typer

from guidekit import __version__
from guidekit.cli import build, formats, layouts, measure, new, presets
from guidekit.cli.light import LightCommand, LightGroup
from guidekit.cli.say import say, say_error
from guidekit.errors import GuidekitError, MachineError

app = typer.Typer(
    name="guidekit",
    cls=LightGroup,
    help="Ready-to-draw, layered comic pages for a whole issue from one small text file.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)
app.command("new")(new.new)
app.command("build")(build.build)
app.command("measure")(measure.measure)
app.command("formats", cls=LightCommand)(formats.formats)
app.add_typer(presets.app, name="presets")
app.add_typer(layouts.app, name="layouts")


def _version(wanted: bool) -> None:
    if wanted:
        say(f"guidekit {__version__}")
        raise typer.Exit


@app.callback()
def _main(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version.")
    ] = False,
) -> None:
    pass


def _spare_time() -> None:
    """Leave out what a short process has no use for."""
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # all packages would be asked
    gc.set_threshold(10_000)  # what modules make stays; it need not be searched so often
    atexit.register(gc.freeze)  # and at the end not at all


def main() -> NoReturn:
    """Run the command line; exit code 2 for bad input, 1 for a failure, 0 when all is done."""
    _spare_time()
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))  # unwinds, so that nothing is left over
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):  # a terminal of few letters shows the rest as \u…
            stream.reconfigure(errors="backslashreplace")
    try:
        app()
    except GuidekitError as error:
        say_error(error, as_json="--json" in sys.argv)
        sys.exit(error.exit_code)
    except OSError as error:  # standard output is full or gone
        say(f"guidekit: {MachineError.from_os('writing the output', error)}", err=True)
        sys.exit(1)
    sys.exit(0)
