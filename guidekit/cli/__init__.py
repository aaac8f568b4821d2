"""The command line: one module a command, errors turned into exit codes here and nowhere else."""

from __future__ import annotations

import atexit
import gc
import os
import sys
import warnings
from contextlib import suppress
from io import TextIOWrapper
from typing import Annotated, Any, NoReturn
from warnings import catch_warnings

import typer

from guidekit import __version__
from guidekit.cli.around import PLUGINS
from guidekit.cli.events import is_stream, keep_apart, tell_end, tell_warning
from guidekit.cli.light import Commands, LightGroup
from guidekit.cli.say import Typed, say, say_error, say_failure
from guidekit.cli.stopping import Stopped
from guidekit.errors import GuidekitError, MachineError
from guidekit.wording import worded

#: Each command or group of them, and the function or app that it is, in the order of the help.
COMMANDS = {
    "new": "new:new",
    "build": "build:build",
    "check": "check:check",
    "lock": "lock:lock",
    "measure": "measure:measure",
    "compare": "compare:compare",
    "overview": "overview:overview",
    "dummy": "sheets:dummy",
    "thumbnails": "sheets:thumbnails",
    "schema": "schema:schema",
    "status": "status:status",
    "refresh": "refresh:refresh",
    "move": "moves:move",
    "insert": "moves:insert",
    "remove": "moves:remove",
    "plan": "plan:plan",
    "formats": "formats:formats",
    "presets": "presets:app",
    "layouts": "layouts:app",
    "plugins": "plugins:app",
}


class _AllCommands(LightGroup):
    def __init__(self, **given: Any):
        super().__init__(**given)
        self.commands = Commands({name: f"guidekit.cli.{at}" for name, at in COMMANDS.items()})


app = typer.Typer(
    name="guidekit",
    cls=_AllCommands,
    help="Ready-to-draw, layered comic pages for a whole issue from one small text file.",
    no_args_is_help=True,
    context_settings={"help_option_names": ["-h", "--help"]},
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


def _version(wanted: bool) -> None:
    if wanted:
        say(f"guidekit {__version__}")
        raise typer.Exit


@app.callback()
def _main(
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version.")
    ] = False,
    no_plugins: Annotated[
        bool, typer.Option("--no-plugins", help="Work without the plug-ins that are installed.")
    ] = False,
) -> None:
    PLUGINS.set(not no_plugins)


def _spare_time() -> None:
    """Leave out what a short process has no use for."""
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")  # all packages would be asked
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # numpy's, for matrices that are not here
    gc.set_threshold(200_000)  # what modules make stays, and is not searched for what does not
    atexit.register(gc.freeze)  # and at the end not at all


def main() -> NoReturn:
    """Run the command line; exit code 2 for bad input, 1 for a failure, 0 when all is done."""
    _spare_time()
    _mend_streams()
    as_json, as_lines = "--json" in sys.argv, is_stream(sys.argv[1:])
    try:
        with worded(Typed()), catch_warnings():
            warnings.showwarning = _warn
            if as_lines:
                keep_apart()
            app()
    except Stopped as stop:
        _fail("stopped. Run it again to go on.", stop, int(stop.code or 1))
        stop.die()
    except GuidekitError as error:
        if not _told_in_lines(str(error), error, error.exit_code):
            say_error(error, as_json)
        sys.exit(error.exit_code)
    except (MemoryError, SystemError, RuntimeError, TypeError) as error:
        if not _is_of_memory(error):
            raise
        told = "no memory is left for this. End some other programs and run again."
        _fail(told, error)
    except ImportError as error:  # no memory for it, or half an installation
        *_, reason = str(error).strip().splitlines()
        told = f"a library cannot be loaded: {reason}. Free some memory, or install again."
        _fail(told, error)
    except OSError as error:  # a file that is named, or standard output, which is full or gone
        doing = f"looking for {error.filename}" if error.filename else "writing the output"
        _fail(str(MachineError.from_os(doing, error)), error)
    else:
        sys.exit(0)
    sys.exit(1)


def _is_of_memory(error: BaseException | None) -> bool:
    """True where memory is at its end, also if Python stumbles over that, or tells it otherwise."""
    while error and not isinstance(error, MemoryError | SystemError):
        error = error.__cause__ or error.__context__
    return error is not None


def _warn(message: Warning | str, *_: Any, **__: Any) -> None:
    """What is told while it happens, as of a plug-in that takes its time."""
    if is_stream(sys.argv[1:]):
        tell_warning(str(message))
    else:
        say(f"Warning: {message}", err=True)


def _fail(text: str, error: BaseException, code: int = 1) -> None:
    """What failed, in the way that was asked for."""
    if not _told_in_lines(text, error, code):
        say_failure(text, error, "--json" in sys.argv)


def _told_in_lines(text: str, error: BaseException, code: int) -> bool:
    """True if lines were asked for, and the last ones have told what failed."""
    if is_stream(sys.argv[1:]):
        with suppress(MachineError):  # nobody listens there
            tell_end(error, text, code)
            return True
    return False


def _mend_streams() -> None:
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:  # closed, and the next file would take its place
            setattr(sys, name, os.fdopen(os.open(os.devnull, os.O_RDWR), mode))
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):  # a terminal of few letters shows the rest as \u…
            stream.reconfigure(errors="backslashreplace")
