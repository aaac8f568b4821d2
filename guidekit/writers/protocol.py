"""What a writer is: it turns one stack into the bytes of one file or of several."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple, Protocol

from guidekit.layers.model import Stack


class Output(NamedTuple):
    """A file to be: its name (with ``/`` below the folder of the build) and its bytes in pieces."""

    name: str
    pieces: Sequence[bytes]


class Limits(NamedTuple):
    """What a format can hold: the longest edge in pixels, and the most layers and groups.

    What it cannot hold is told, but is no reason not to write: edges above `common_edge` pixels,
    which fewer programs open; `masks` of groups, where it keeps layers; `grey`, which is then
    stored as colour; more than `depth` bits a channel.
    """

    edge: int
    layers: int = 65_535
    common_edge: int | None = None
    masks: bool = True
    grey: bool = True
    depth: int = 16


class Writer(Protocol):
    """One file format. A writer is pure: the same stack gives the same bytes, and no file is made.

    `name` is that of the format in the catalogue.
    """

    name: str

    def limits(self, dpi: int) -> Limits:
        """What the format holds of a canvas of so many pixels per inch."""
        ...

    def write(self, stack: Stack) -> Iterable[Output]:
        """The files of one canvas."""
        ...
