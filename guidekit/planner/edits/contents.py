"""A tree of panels as a file writes it, and pages with their named layouts written out in full."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import product
from typing import Any

from guidekit.errors import InputError, Problem
from guidekit.issue.models.bending import Bending
from guidekit.issue.models.part import CONTENTS as PART_CONTENTS
from guidekit.issue.models.part import SHARES
from guidekit.issue.models.share import EVEN, Position, Share
from guidekit.issue.tree import Axis, Diagonals, Empty, Grid, Leaf, Node, Split
from guidekit.planner.edits.spots import Values
from guidekit.preset.sizes import Gutter
from guidekit.units import Slant, decimal

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"
CONTENTS = (*PART_CONTENTS, "empty", "halves", "scroll")
#: What goes with a content, and has no sense with another.
WITH_CONTENTS = (*CONTENTS, *SHARES)

#: The list in which parts lie along an axis, and the name of their shares.
LISTS: dict[Axis, tuple[str, str]] = {"across": ("columns", "widths"), "down": ("tiers", "heights")}


def number(value: Fraction) -> int | float:
    """A weight as a file writes it."""
    return int(value) if value.denominator == 1 else float(value)


def share_value(share: Share) -> int | float | str:
    """A share as a file writes it."""
    if share.weight is not None:
        return number(share.weight)
    if share.percent is not None:
        return f"{decimal(share.percent, 6)} %"
    return str(share.length)


def slant_value(slant: Slant | None) -> str:
    """A slant as a file writes it."""
    if slant and slant.offset:
        return str(slant.offset)
    return f"{decimal((slant and slant.degrees) or Fraction(0), 2)} deg"


def bend_value(bend: Bending | None) -> str | list[Any]:
    """A bend as a file writes it; raises `InputError` where its far end alone is known."""
    if not bend:
        return "0 %"
    if bend.offset:
        return _place(bend.offset)
    if not bend.backward:
        return [[_place(along), _place(off)] for along, off in bend.points]
    if any(along.length for along, _ in bend.points):
        came = "a gutter of this layout bends at lengths from its other end"
        raise InputError(Problem((), came, todo="Change it in the file."))
    return [
        [_place(Position(percent=100 - (along.percent or Fraction(0)))), _place(off)]
        for along, off in reversed(bend.points)
    ]


def _place(place: Position) -> str:
    if place.length:
        return str(place.length)
    return f"{decimal(place.percent or Fraction(0), 6)} %"


def gutter_value(gutter: Gutter) -> str | Values:
    """A gutter as a file writes it."""
    if gutter.across == gutter.down:
        return str(gutter.across)
    return {"across": str(gutter.across), "down": str(gutter.down)}


def content_of(node: Node) -> Values:
    """The keys that fill a page, a tier or a column with this tree."""
    if isinstance(node, Leaf):
        return {"panels": 1}
    if isinstance(node, Empty):
        return {"empty": True}
    values: Values = {"gutter": gutter_value(node.gutter)} if node.gutter else {}
    if isinstance(node, Diagonals):
        return {"triangles": node.kind} | values
    if isinstance(node, Grid):
        shares = {"widths": node.columns, "heights": node.rows}
        values = {"map": _map(node)} | values
        return values | {name: _shares(of) for name, of in shares.items() if not even(of)}
    name, sizes = LISTS[node.axis]
    return {name: [_part(part, name) for part in node.parts]} | _beside(node, sizes) | values


def _beside(node: Split, sizes: str) -> Values:
    values: Values = {} if even(node.shares) else {sizes: _shares(node.shares)}
    if any(node.gaps):
        values["gutters"] = [str(gap) for gap in node.gaps]
    if any(node.slants):
        values["slants"] = [slant_value(slant) for slant in node.slants]
    if any(node.bends):
        values["bends"] = [bend_value(bend) for bend in node.bends]
    return values


def _part(node: Node, inside: str) -> int | Values:
    """An entry of a list of tiers or columns; a number where nothing else need be said."""
    if isinstance(node, Leaf):
        return 1
    along = "across" if inside == "tiers" else "down"
    if (
        isinstance(node, Split)
        and node.axis == along
        and all(isinstance(part, Leaf) for part in node.parts)
    ):
        values = _beside(node, "widths" if along == "across" else "heights")
        if node.gutter:
            values["gutter"] = gutter_value(node.gutter)
        return {"panels": len(node.parts), **values} if values else len(node.parts)
    return content_of(node)


def _map(node: Grid) -> str:
    rows = [["."] * len(node.columns) for _ in node.rows]
    leaves = [(inner.number, block) for inner, block in node.blocks if isinstance(inner, Leaf)]
    for letter, (_, block) in zip(LETTERS, sorted(leaves, key=lambda leaf: leaf[0]), strict=False):
        left, top, right, bottom = block.area
        for x, y in block.cells or product(range(left, right), range(top, bottom)):
            rows[y][x] = letter
    return "".join(f"{' '.join(row)}\n" for row in rows)


def _shares(shares: Sequence[Share]) -> list[Any]:
    return [share_value(share) for share in shares]


def even(shares: Sequence[Share]) -> bool:
    """True if nothing need be said of them."""
    return all(share == EVEN for share in shares)


def written_out(part: Any, node: Node) -> Any:
    """A page or part of one in which the layouts that it names are written out; see `content_of`.

    `node` is its tree.
    """
    if isinstance(part, str):
        return content_of(node)
    if not isinstance(part, dict):
        return part
    if isinstance(part.get("panels"), str):
        own = {name: value for name, value in part.items() if name not in ("panels", "gutter")}
        return content_of(node) | own
    for name in ("tiers", "columns"):
        if name in part:
            assert isinstance(node, Split)
            parts = [written_out(*pair) for pair in zip(part[name], node.parts, strict=True)]
            return {**part, name: parts}
    return part


def without_contents(part: Any) -> Values:
    """What a part says beside what fills it; nothing for a bare number or name."""
    if not isinstance(part, dict):
        return {}
    return {name: value for name, value in part.items() if name not in WITH_CONTENTS}
