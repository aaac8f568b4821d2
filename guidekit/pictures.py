"""Small pictures of layouts, for people who would rather look than read: PNG, or text."""

from __future__ import annotations

from fractions import Fraction

from guidekit.geometry.arrange import Placed, Spacing, arrange
from guidekit.issue.layouts import Layouts
from guidekit.issue.model import Layout
from guidekit.issue.reading import read_part
from guidekit.plane.box import Box
from guidekit.plane.polygon import Points, clip_all, corners
from guidekit.preset.model import Gutter
from guidekit.raster.blend import Ink, flatten
from guidekit.raster.shapes import Polygon, cover
from guidekit.raster.text import Text
from guidekit.units import Length, half_up
from guidekit.writers.png.encode import encode_png

PAGE = (200, 300)  # width and height of a page, in pixels; a spread is twice as wide
MARGIN = 10
GUTTER = Length(Fraction(6), "px")


def panels_of(layout: Layout, width: int, height: int, gutter: Length) -> tuple[Placed, ...]:
    """The panels of a layout in a frame of this size."""
    node, _ = read_part(layout, Layouts(), "ltr")
    spacing = Spacing(Gutter(across=gutter, down=gutter), 100)
    return arrange(node, Box(0, 0, width, height), spacing).panels


def number_of_panels(layout: Layout) -> int:
    """How many panels a layout has."""
    return len(panels_of(layout, 10_000, 10_000, Length(Fraction(0), "px")))


def layout_png(layout: Layout) -> bytes:
    """A tiny picture: panels in grey with their numbers."""
    width, height = PAGE[0] * (2 if layout.spread else 1), PAGE[1]
    canvas = Box(-MARGIN, -MARGIN, width + MARGIN, height + MARGIN)
    placed = panels_of(layout, width, height, GUTTER)
    areas = tuple(Polygon(clip_all(corners(p.limits), p.cuts)) for p in placed)
    numbers = tuple(
        _numbered(str(p.number), area.points, min(14, p.box.height // 3))
        for p, area in zip(placed, areas, strict=True)
    )
    inks = [Ink(cover(areas, canvas), (205, 205, 205)), Ink(cover(numbers, canvas), (0, 0, 0))]
    return b"".join(encode_png(flatten(inks, canvas, (255, 255, 255)), 100, {}))


def layout_text(layout: Layout, columns: int = 24, rows: int = 14) -> str:
    """The same in characters: each panel framed by lines, its number in it."""
    columns *= 2 if layout.spread else 1
    grid = [[" "] * columns for _ in range(rows)]
    fine = 60  # positions to a character, so that rounding does not show
    for panel in panels_of(layout, columns * fine, rows * fine, Length(Fraction(0), "px")):
        left, top = _cell(panel.box.left, fine), _cell(panel.box.top, fine)
        left, top = min(left, columns - 1), min(top, rows - 1)
        right = max(left, _cell(panel.box.right, fine) - 1)
        bottom = max(top, _cell(panel.box.bottom, fine) - 1)
        for x in range(left, right + 1):
            grid[top][x] = grid[bottom][x] = "─"
        for y in range(top, bottom + 1):
            grid[y][left] = grid[y][right] = "│"
        for y, x, corner in (
            (top, left, "┌"), (top, right, "┐"), (bottom, left, "└"), (bottom, right, "┘")
        ):  # fmt: skip
            grid[y][x] = corner
        number = str(panel.number)
        if right - left > len(number) and bottom > top:
            y = top + 1 if bottom - top > 1 else top
            grid[y][left + 1 : left + 1 + len(number)] = number
    return "\n".join("".join(line).rstrip() for line in grid)


def _numbered(number: str, points: Points, height: int) -> Text:
    """A number in a panel, a third of the way from its first corner to its middle."""
    x, y = (points[0][i] * 2 / 3 + sum(p[i] for p in points) / len(points) / 3 for i in (0, 1))
    return Text(number, round(x), round(y - height / 3), height)


def _cell(position: int, fine: int) -> int:
    return half_up(Fraction(position, fine))
