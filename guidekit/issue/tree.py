"""How a page is divided, before any pixel: a tree of splits and grids with panels as its leaves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from guidekit.errors import Key
from guidekit.issue.models.bending import Bending
from guidekit.issue.models.block import Block
from guidekit.issue.models.part import Triangles
from guidekit.issue.models.share import Share
from guidekit.plane.box import Edge
from guidekit.preset.sizes import Gutter
from guidekit.units import Length, Slant

Axis = Literal["across", "down"]


@dataclass(frozen=True)
class Leaf:
    """One panel, with its number in reading order."""

    number: int


@dataclass(frozen=True)
class Empty:
    """A place without a panel, for a title or for nothing."""


@dataclass(frozen=True)
class Split:
    """Parts side by side (`across`, left to right) or under each other (`down`).

    `gaps`, `slants` and `bends` have one value for each gap; None stands for the gutter that holds
    all round, and for a straight one. `gutter` replaces that gutter here and inside. `key` leads to
    the part in the issue's file, in which `list_name` holds the parts, `slant_name` the slants and
    `bend_name` the bends.
    """

    axis: Axis
    parts: tuple[Node, ...]
    shares: tuple[Share, ...]
    gaps: tuple[Length | None, ...] = ()
    slants: tuple[Slant | None, ...] = ()
    bends: tuple[Bending | None, ...] = ()
    gutter: Gutter | None = None
    key: Key = ()
    list_name: str = ""
    slant_name: str = "slants"
    bend_name: str = "bends"

    @property
    def parts_key(self) -> Key:
        """Leads to the parts: a list, or a number of panels."""
        return (*self.key, self.list_name) if self.list_name else self.key


@dataclass(frozen=True)
class Grid:
    """Rows and columns, and the blocks of their cells that panels and empty places fill."""

    columns: tuple[Share, ...]
    rows: tuple[Share, ...]
    blocks: tuple[tuple[Leaf | Empty, Block], ...]
    gutter: Gutter | None = None
    key: Key = ()


@dataclass(frozen=True)
class Diagonals:
    """Panels that are triangles between the diagonals of a part, each with the edges it lies at."""

    kind: Triangles
    panels: tuple[tuple[Leaf, frozenset[Edge]], ...]
    gutter: Gutter | None = None
    key: Key = ()


Node = Leaf | Empty | Split | Grid | Diagonals
