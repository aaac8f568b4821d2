"""What a writer is: it turns one stack into the bytes of one file or of several."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple, Protocol

from guidekit.layers.model import Stack


class Output(NamedTuple):
    """A file to be: its name (with ``/`` below the folder of the build) and its bytes in pieces."""

    name: str
    pieces: Sequence[bytes]


class Writer(Protocol):
    """One file format. A writer is pure: the same stack gives the same bytes, and no file is made.

    `name` is what ``--format`` takes, `about` one line for people, `largest` the longest edge in
    pixels that the format holds.
    """

    name: str
    about: str
    largest: int

    def write(self, stack: Stack) -> Iterable[Output]:
        """The files of one canvas."""
        ...
