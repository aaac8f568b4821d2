"""A page as it is written, gone through in reading order beside the boxes that were made of it.

Nothing here calls guidekit: how parts, gutters and shares lie is told a second time.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import accumulate, pairwise, product
from typing import Any

from support.rounding import nearest

Edges = list[int]  # left, top, right, bottom
INCHES = {
    "mm": Fraction(10, 254),
    "cm": Fraction(100, 254),
    "in": Fraction(1),
    "pt": Fraction(1, 72),
}


def px(length: str, dpi: int, whole: int = 0) -> int:
    """A length, or a percentage of `whole`, in whole pixels."""
    number, unit = length.split()
    factors = {"px": Fraction(1), "%": Fraction(whole, 100)}
    factor = factors[unit] if unit in factors else INCHES[unit] * dpi
    return nearest(Fraction(number) * factor)


def around(found: list[Edges]) -> Edges:
    """The smallest box that holds all."""
    left, top, right, bottom = zip(*found, strict=True)
    return [min(left), min(top), max(right), max(bottom)]


def area(box: Edges) -> int:
    """Square pixels."""
    return (box[2] - box[0]) * (box[3] - box[1])


@dataclass(frozen=True)
class Walk:
    """What holds on the way: the boxes by number, the next number, direction and gutters.

    `step` is 1 for books read to the right, −1 to the left; `across` and `down` are pixels;
    `exact` asks for sizes that are equal to the pixel where their weights are, and near to them.
    """

    found: list[Edges]
    numbers: Iterator[int]
    step: int
    dpi: int
    across: int
    down: int
    exact: bool = False

    def part(self, part: dict[str, Any], key: str = "") -> tuple[Edges, int]:
        """Asserts how a part lies; returns the box that it fills and the area of its gutters.

        `key` is the list in which the part stands, empty for the page.
        """
        if gutter := part.get("gutter"):
            pair = gutter if isinstance(gutter, dict) else {"across": gutter, "down": gutter}
            across, down = (px(pair[way], self.dpi) for way in ("across", "down"))
            return replace(self, across=across, down=down).part({**part, "gutter": None}, key)
        if "map" in part:
            return self.letters(part)
        kind = next((kind for kind in ("tiers", "columns") if kind in part), "panels")
        across = kind == "columns" or (kind == "panels" and key == "tiers")
        entries: list[Any] = part[kind] if kind != "panels" else [None] * part["panels"]
        order = range(len(entries))
        parts = {
            i: self.part(entries[i], kind) if entries[i] else (self.found[next(self.numbers)], 0)
            for i in (order[:: self.step] if across else order)
        }
        made = [parts[i][0] for i in order]
        gap = self.across if across else self.down
        gaps = [px(x, self.dpi) for x in part.get("gutters", ())] or [gap] * (len(made) - 1)
        shares = part.get("widths" if across else "heights", [1] * len(made))
        whole = around(made)
        self.row(made, whole, gaps, shares, across)
        length = whole[3] - whole[1] if across else whole[2] - whole[0]
        return whole, sum(gaps) * length + sum(inner for _, inner in parts.values())

    def row(
        self, made: list[Edges], whole: Edges, gaps: list[int], shares: list[Any], across: bool
    ) -> None:
        """Parts beside each other, or below if not `across`: flush, gaps and shares as written.

        Spare pixels are shared out by rounding the edges, from the fold outward; page 1 is read
        from the fold whichever way the book runs.
        """
        low, high, side, end = (0, 2, 1, 3) if across else (1, 3, 0, 2)
        assert all((box[side], box[end]) == (whole[side], whole[end]) for box in made)
        assert [b[low] - a[high] for a, b in pairwise(made)] == gaps
        sizes = [box[high] - box[low] for box in made]
        weighted: list[tuple[int, Fraction]] = []
        for size, share in zip(sizes, shares, strict=True):
            if isinstance(share, str):
                assert size == px(share, self.dpi, whole[high] - whole[low])
            else:
                weighted.append((size, Fraction(share)))
        most = 0 if self.exact else 1
        assert all(abs(a - b) <= most for (a, x), (b, y) in product(weighted, repeat=2) if x == y)
        unit = Fraction(sum(size for size, _ in weighted)) / sum(weight for _, weight in weighted)
        from_fold = weighted[:: self.step] if across else weighted
        edges = [unit * x for x in accumulate((x for _, x in from_fold), initial=Fraction(0))]
        if self.exact:
            assert all(
                abs(size - unit * x) <= max(Fraction(1), unit * x / 20) for size, x in weighted
            )
            return
        whole = [nearest(x) for x in edges]
        assert [size for size, _ in from_fold] == [b - a for a, b in pairwise(whole)]

    def letters(self, part: dict[str, Any]) -> tuple[Edges, int]:
        """A letter map: neighbours in a row or column of letters are a gutter apart."""
        rows = [line.split() for line in part["map"].splitlines()]
        places = {letter: self.found[next(self.numbers)] for letter in reading(rows, self.step)}
        whole = around([*places.values()])
        columns = [list(column) for column in zip(*rows, strict=True)]
        for lines, gap, low, high in ((rows, self.across, 0, 2), (columns, self.down, 1, 3)):
            for line in lines:
                order = [places[letter] for letter in dict.fromkeys(line)]
                assert (order[0][low], order[-1][high]) == (whole[low], whole[high])
                assert all(b[low] - a[high] == gap for a, b in pairwise(order))
        return whole, area(whole) - sum(map(area, places.values()))


def reading(rows: list[list[str]], step: int) -> list[str]:
    """The letters of a map in reading order, `step` 1 to the right, −1 to the left.

    Tier by tier where a straight cut across all is possible, each tier column by column, and so
    on; what cannot be cut goes by its first row, then in the book's direction.
    """
    if len({letter for row in rows for letter in row}) == 1:
        return [rows[0][0]]
    if len(tiers := _cut(rows)) > 1:
        return [letter for tier in tiers for letter in reading(tier, step)]
    columns = _cut([list(column) for column in zip(*rows, strict=True)])
    if len(columns) > 1:
        upright = [[list(row) for row in zip(*column, strict=True)] for column in columns[::step]]
        return [letter for column in upright for letter in reading(column, step)]
    return list(dict.fromkeys(letter for row in rows for letter in row[::step]))


def _cut(rows: list[list[str]]) -> list[list[list[str]]]:
    groups = [[rows[0]]]
    for above, below in pairwise(rows):
        if any(a == b for a, b in zip(above, below, strict=True)):
            groups[-1].append(below)
        else:
            groups.append([below])
    return groups
