"""Small pictures of layouts, for people who would rather look than read: PNG, or text."""

from __future__ import annotations

from collections.abc import Sequence, Set
from fractions import Fraction
from itertools import product
from typing import NamedTuple

from guidekit.geometry.division.arrange import Arrangement, Placed, arrange
from guidekit.geometry.division.region import Region
from guidekit.geometry.division.spacing import Spacing
from guidekit.issue.layouts import Layouts
from guidekit.issue.models.part import Layout
from guidekit.issue.reading import Reader
from guidekit.plane.box import Box
from guidekit.plane.polygon import Points, holds
from guidekit.preset.sizes import Gutter
from guidekit.raster.blend import Ink, flatten
from guidekit.raster.shapes import Polygon, cover
from guidekit.raster.text import Text
from guidekit.units import Length
from guidekit.writers.png.encode import encode_small_png

#: Width and height of what a layout is made for, in pixels.
CANVASES = {"page": (200, 300), "spread": (400, 300), "strip": (400, 130)}
#: The same in characters, which are twice as tall as wide.
CHARACTERS = {"page": (24, 18), "spread": (48, 18), "strip": (48, 8)}
FINE = 60  # positions across a character, so that rounding does not show
MARGIN = 10
NO_PANEL = 0  # the number of empty places
GUTTER = Length(Fraction(6), "px")

CharacterPlace = tuple[int, int]  # column and row of a character


class Numbered(NamedTuple):
    """A shape with a number, and what lies above it."""

    number: int
    points: Points
    covered: tuple[Points, ...] = ()

    def shows(self, column: int, row: int) -> bool:
        """True if the middle of a character is in what is seen of it."""
        middle = (column + 0.5) * FINE, (row + 0.5) * FINE * 2
        return holds(self.points, middle) and not any(holds(one, middle) for one in self.covered)


def panels_of(
    layout: Layout, layouts: Layouts, width: int, height: int, gutter: Length
) -> tuple[Placed, ...]:
    """The panels of a layout in a frame of this size."""
    return arranged(layout, layouts, width, height, gutter).panels


def arranged(
    layout: Layout, layouts: Layouts, width: int, height: int, gutter: Length
) -> Arrangement:
    """A layout in a frame of this size; `layouts` are those that it may name."""
    node = Reader(layouts, "ltr", layout.spread).read(layout)
    spacing = Spacing(Gutter(across=gutter, down=gutter), 100)
    return arrange(node, Box(0, 0, width, height), spacing)


def shape_of_canvas(layout: Layout) -> str:
    """What a layout is made for: a key of `CANVASES`."""
    return "spread" if layout.spread else "strip" if layout.strip else "page"


def layout_png(layout: Layout, layouts: Layouts) -> bytes:
    """A tiny picture: panels in grey with their numbers, empty places lighter."""
    width, height = CANVASES[shape_of_canvas(layout)]
    canvas = Box(-MARGIN, -MARGIN, width + MARGIN, height + MARGIN)
    found = arranged(layout, layouts, width, height, GUTTER)
    placed, empty = found.panels, tuple(Polygon(region.points) for region in found.empty)
    areas = tuple(Polygon(p.region.points) for p in placed)
    numbers = tuple(_numbered(str(p.number), p.region, min(14, p.box.height // 3)) for p in placed)
    inks = [
        Ink(cover(empty, canvas), (238, 238, 238)),
        Ink(cover(areas, canvas), (205, 205, 205)),
        Ink(cover(numbers, canvas), (0, 0, 0)),
    ]
    return b"".join(encode_small_png(flatten(inks, canvas, (255, 255, 255)), 100))


def layout_text(layout: Layout, layouts: Layouts) -> str:
    """The same in characters: each panel framed by lines, leaning ones too, its number in it.

    Empty places are dotted.
    """
    columns, rows = CHARACTERS[shape_of_canvas(layout)]
    nothing = Length(Fraction(0), "px")
    found = arranged(layout, layouts, columns * FINE, rows * FINE * 2, nothing)
    places = (*found.panels, *(Placed(NO_PANEL, region) for region in found.empty))
    shapes = [Numbered(place.number, place.region.points) for place in places]
    return "\n".join(line.rstrip() for line in framed(shapes, columns, rows))


def framed(shapes: Sequence[Numbered], columns: int, rows: int) -> list[str]:
    """What is seen of shapes in characters, a line of `columns` for each row.

    Their corners are in `FINE` to a column, and twice that to a row.
    """
    owner = {
        (x, y): shape.number
        for shape in shapes
        for x, y in product(range(columns), range(rows))
        if shape.shows(x, y)
    }
    joined = {shape.number for shape in shapes if shape.covered or _is_joined(shape.points)}
    grid = [[_line(owner, x, y, joined) for x in range(columns)] for y in range(rows)]
    for shape in shapes:
        if shape.number != NO_PANEL:
            _write_number(grid, owner, shape.number)
    return ["".join(line) for line in grid]


#: The corner of a frame by the neighbours beyond it; a neighbour across the corner, and what is
#: drawn if that is in the panel: there an edge leans, and turns one way and at once the other.
_CORNERS = {
    ("above", "left"): ("┌", (1, -1), "╱"),
    ("above", "right"): ("┐", (-1, -1), "╲"),
    ("below", "left"): ("└", (1, 1), "╲"),
    ("below", "right"): ("┘", (-1, 1), "╱"),
}


def _is_joined(points: Points) -> bool:
    """True if a shape has level and upright sides only, and is no box."""
    sides = zip(points, points[1:] + points[:1], strict=True)
    return len(points) > 4 and all(p[0] == q[0] or p[1] == q[1] for p, q in sides)


#: The corner of a frame in a notch, by the neighbour across the corner that lies in the notch.
_NOTCHES = {(1, 1): "┌", (-1, 1): "┐", (1, -1): "└", (-1, -1): "┘"}


def _line(owner: dict[CharacterPlace, int], x: int, y: int, joined: Set[int]) -> str:
    """The piece of a frame that stands in a place; a space inside and outside of panels.

    Those that are `joined` have notches.
    """
    if owner.get((x, y), NO_PANEL) == NO_PANEL:
        return "·" if (x, y) in owner and x % 2 else " "

    def other(right: int, down: int) -> bool:
        return owner.get((x + right, y + down)) != owner[x, y]

    vertical = [name for name, down in (("above", -1), ("below", 1)) if other(0, down)]
    sides = [name for name, right in (("left", -1), ("right", 1)) if other(right, 0)]
    if len(vertical) == len(sides) == 1:
        corner, (right, down), leaning = _CORNERS[vertical[0], sides[0]]
        return corner if other(right, down) else leaning
    if len(sides) == 1 or len(sides) > len(vertical):
        return "│"
    if not vertical and owner[x, y] in joined:
        return next((corner for to, corner in _NOTCHES.items() if other(*to)), " ")
    return "─" if vertical else " "


def _write_number(grid: list[list[str]], owner: dict[CharacterPlace, int], number: int) -> None:
    """Into the first row of the panel with room between its frame, else into the frame itself."""
    words = str(number)
    places = [place for place, panel in owner.items() if panel == number]
    for free in (" ", " ─"):
        for x, y in sorted(places, key=lambda place: place[::-1]):
            room = range(x, x + len(words))
            if all(owner.get((i, y)) == number and grid[y][i] in free for i in room):
                grid[y][x : x + len(words)] = words
                return


def _numbered(number: str, region: Region, height: int) -> Text:
    """A number in a panel, a third of the way from its first corner to its middle.

    In one that is neither a box nor slanted, in the uppermost place with room.
    """
    points = region.points
    x, y = (points[0][i] * 2 / 3 + sum(p[i] for p in points) / len(points) / 3 for i in (0, 1))
    if region.is_free or len(points) < 4:
        from guidekit.plane.rings import places_for  # few layouts need it

        room = Box(-height, -height, height * (1 + len(number)), 2 * height)
        places = [place for ring in places_for(room, (points,)) for place in ring]
        x, y = min(places, key=lambda place: place[::-1], default=(x, y))
        return Text(number, round(x), round(y), height)
    return Text(number, round(x), round(y - height / 3), height)
