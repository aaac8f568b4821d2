"""A page drawn in letters, one letter a panel, as grid areas are drawn in CSS Grid (W3C)."""

from __future__ import annotations

from dataclasses import dataclass

from guidekit.errors import WrongValueError, shown


@dataclass(frozen=True)
class LetterMap:
    """Rows of letters; `areas` gives each letter's (left, top, right, bottom), half-open.

    Places with no letter but dots are empty: they have their gutters and hold no panel (CSS Grid 2,
    section 7.3, null cell token).
    """

    rows: int
    columns: int
    areas: dict[str, tuple[int, int, int, int]]

    def __hash__(self) -> int:
        return hash((self.rows, self.columns, tuple(self.areas.items())))


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
    places: dict[str, list[tuple[int, int]]] = {}
    for y, line in enumerate(lines):
        for x, letter in enumerate(line):
            if set(letter) != {"."}:
                places.setdefault(letter, []).append((x, y))
    if not places:
        raise WrongValueError("no letter is on this map", "at least one letter")
    areas = {}
    for letter, cells in places.items():
        xs, ys = [x for x, _ in cells], [y for _, y in cells]
        left, top, right, bottom = min(xs), min(ys), max(xs) + 1, max(ys) + 1
        if len(cells) != (right - left) * (bottom - top):
            came = f"the places of {shown(letter)} are not one rectangle"
            raise WrongValueError(came, "each letter in the shape of a rectangle")
        areas[letter] = (left, top, right, bottom)
    return LetterMap(len(lines), columns, areas)
