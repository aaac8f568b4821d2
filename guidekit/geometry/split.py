"""How a page is divided, before any pixel: a tree of splits and grids with panels as its leaves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from guidekit.issue.share import Share

Axis = Literal["across", "down"]


@dataclass(frozen=True)
class Leaf:
    """One panel, with its number in reading order."""

    number: int


@dataclass(frozen=True)
class Split:
    """Parts side by side (`across`, left to right) or under each other (`down`)."""

    axis: Axis
    parts: tuple[Node, ...]
    shares: tuple[Share, ...]
    place: str = ""


@dataclass(frozen=True)
class Grid:
    """Rows and columns, and panels that span some: areas as (left, top, right, bottom) tracks."""

    columns: tuple[Share, ...]
    rows: tuple[Share, ...]
    areas: tuple[tuple[Leaf, tuple[int, int, int, int]], ...]
    place: str = ""


Node = Leaf | Split | Grid
