"""``python -m guidekit``, and the start of the installed command."""

from __future__ import annotations

import signal


def main() -> None:
    """Run the command line; until it is loaded, Ctrl-C ends the process without a word."""
    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, signal.SIG_DFL)
    from guidekit.cli import main

    main()


if __name__ == "__main__":
    main()
