"""A page drawn in letters, one letter a panel, as grid areas are drawn in CSS Grid (W3C)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guidekit.errors import WrongValueError, shown
from guidekit.issue.models.block import EDGES_AND_CORNERS, Block, Cell, joined, surrounds

MOST_CELLS = 10_000  # of a panel that is no rectangle


@dataclass(frozen=True)
class LetterMap:
    """Rows of letters, and the block of cells that each letter fills.

    Cells with no letter but dots are empty: they have their gutters and hold no panel (CSS Grid 2,
    section 7.3, null cell token). Those that join along edges are one place, unless it would go
    round others.
    """

    rows: int
    columns: int
    blocks: dict[str, Block]
    empty: tuple[Block, ...] = ()

    def __hash__(self) -> int:
        return hash((self.rows, self.columns, tuple(self.blocks.items())))


def read_map(text: object) -> LetterMap:
    """Read lines such as ``A A B``; raises `ValueError` saying what is wrong with the shapes."""
    if isinstance(text, LetterMap):
        return text
    if not isinstance(text, str) or not text.split():
        allowed = 'lines of letters, one letter for each place, as in "A A B"'
        raise WrongValueError(f"{shown(text)} is not a map", allowed)
    lines = [line.split() for line in text.strip().splitlines()]
    for word in (word for line in lines for word in line if len(word) > 1 and word.isascii()):
        if set(word) == {"."}:
            continue
        todo = f"Write {shown(' '.join(word))}."
        raise WrongValueError(f"{shown(word)} has no spaces", "a space between letters", todo)
    columns = len(lines[0])
    for number, line in enumerate(lines, 1):
        if len(line) != columns:
            came = f"row 1 has {columns} letters, and row {number} has {len(line)}"
            raise WrongValueError(came, "rows of equal length")
    places: dict[str, list[Cell]] = {}
    for y, line in enumerate(lines):
        for x, letter in enumerate(line):
            places.setdefault("." if set(letter) == {"."} else letter, []).append((x, y))
    empty = tuple(_places(places.pop(".", [])))
    if not places:
        raise WrongValueError("no letter is on this map", "at least one letter")
    blocks = {letter: Block.of(frozenset(cells)) for letter, cells in places.items()}
    for letter, block in blocks.items():
        if block.cells:
            _check_joined(letter, block)
    return LetterMap(len(lines), columns, blocks, empty)


def _check_joined(letter: str, block: Block) -> None:
    """Places of a letter that are no rectangle join along edges; raises `WrongValueError`."""
    if len(block.cells) > MOST_CELLS:
        came = f"the {len(block.cells):,} places of {shown(letter)} are no rectangle"
        raise WrongValueError(came, f"such a shape of at most {MOST_CELLS:,} places")
    groups = [*joined(block.cells)]
    if len(groups) > 1:
        came = f"the places of {shown(letter)} lie in {len(groups)} groups"
        if len([*joined(block.cells, EDGES_AND_CORNERS)]) == 1:
            came += " that meet only at corners"
        allowed = "places that join along their edges"
        todo = f"Join them, or take another letter for one of the groups: {allowed} are one panel."
        raise WrongValueError(came, allowed, todo)
    if surrounds(block):
        came = f"the places of {shown(letter)} go all round others"
        todo = "Draw one panel there, and lay an inset over it."
        raise WrongValueError(came, "places that leave a way out", todo)


def _places(cells: list[Cell]) -> Iterator[Block]:
    """Empty places as large as they can be."""
    for group in joined(cells):
        block = Block.of(group)
        parts = sorted(group) if surrounds(block) else ()
        yield from [Block.of(frozenset({cell})) for cell in parts] or [block]
