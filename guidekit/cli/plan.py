"""``guidekit plan``: an issue seen and shaped in a browser on this machine."""

from __future__ import annotations

import sys
import threading
from typing import Annotated

import typer

from guidekit.cli.around import studio_of
from guidekit.cli.options import IssuePath
from guidekit.cli.say import say


def plan(
    issue: IssuePath,
    browser: Annotated[
        bool, typer.Option("--browser/--no-browser", help="Open the address in the browser.")
    ] = True,
    port: Annotated[
        int, typer.Option("--port", min=0, max=65535, help="A port; by default a free one.")
    ] = 0,
) -> None:
    """See an issue as its pages and shape it by hand, in a browser on this machine alone.

    The issue's file stays the only truth: every change is written into it at once.

    Example: guidekit plan examples/salt-road.toml
    """
    from guidekit.issue import issue_in
    from guidekit.planner.serving import serve

    def opened(address: str) -> None:
        say(f"{address}\nCtrl-C ends it, and so does closing its last tab.")
        sys.stdout.flush()  # whoever reads it in a pipe waits for it
        if browser:
            import webbrowser

            threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()

    with studio_of(issue) as studio:
        serve(issue_in(issue), studio, port, opened)
