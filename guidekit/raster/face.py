"""Font files: which letters they have, and the outlines of their glyphs.

HarfBuzz reads TrueType and OpenType outlines alike, one by one or in collections, and looks
through whatever a damaged file says before it follows it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from itertools import chain
from pathlib import Path
from typing import Any, NamedTuple

import uharfbuzz as hb

from guidekit.errors import InputError, MachineError, Problem
from guidekit.memory import remembered
from guidekit.plane.polygon import Point
from guidekit.raster.font import STANDARD, FontFile
from guidekit.stops import Unbroken

FARTHEST = 10  # sizes of the letters: an outline beyond that is damaged
CAPITALS = 0.7  # of the size: about what is usual
FAMILY = {1, 16}  # OpenType 1.9, name table: family as old programs and as new ones group it


class Contour(NamedTuple):
    """A closed line: its start, then for each part one point, or the three of a Bézier curve."""

    start: Point
    parts: tuple[tuple[Point, ...], ...]


@dataclass(frozen=True, eq=False)
class Face:
    """An opened font. Lengths are shares of its size, x to the right and y upward."""

    file: FontFile
    hb_font: Any
    upem: int
    _outlines: dict[int, tuple[Contour, ...]] = field(default_factory=dict)

    def has(self, letter: str) -> bool:
        """True if the font has a glyph for a letter, and something to draw for it."""
        glyph = self.hb_font.get_nominal_glyph(ord(letter))
        if glyph is None:
            return False
        return letter.isspace() or self.file in STANDARD or bool(self.outlines(glyph))

    @property
    def capitals(self) -> float:
        """The height of capitals, of an H if the font has one that can be meant so."""
        glyph = self.hb_font.get_nominal_glyph(ord("H"))
        extents = self.hb_font.get_glyph_extents(glyph) if glyph else None
        height = extents.y_bearing / self.upem if extents else CAPITALS
        return height if 0.2 < height < 2 else CAPITALS

    def outlines(self, glyph: int) -> tuple[Contour, ...]:
        """The outlines of one glyph; where they overlap the inside is what is wound round."""
        if glyph not in self._outlines:
            drawn: list[tuple[Point, list[tuple[Point, ...]]]] = []
            with Unbroken():  # what is raised while HarfBuzz calls is lost, and so is a part
                self.hb_font.draw_glyph(glyph, _PEN, (drawn, 1 / self.upem))
            points = [p for start, parts in drawn for p in (start, *chain(*parts))]
            sound = all(abs(x) < FARTHEST and abs(y) < FARTHEST for x, y in points)
            contours = (Contour(start, tuple(parts)) for start, parts in drawn)
            self._outlines[glyph] = tuple(contours) if sound else ()
        return self._outlines[glyph]


@remembered
def opened(font: FontFile) -> Face:
    """A font ready to draw with; raises `InputError` for a file that is none, `MachineError`."""
    try:
        face = hb.Face(hb.Blob.from_file_path(font.path), font.number)
    except (hb.HarfBuzzError, ValueError) as error:
        _read(font)
        raise _unfit(font, str(error)) from None
    found = Face(font, hb.Font(face), face.upem)
    if not any(found.has(chr(letter)) for letter in face.unicodes):
        raise _unfit(font, "it has no letters that can be drawn")
    return found


def in_file(path: str) -> Iterator[tuple[FontFile, frozenset[str], float]]:
    """Every font of a file, its family's names, and how far it is from the family's regular one.

    Nothing for a file that is no font.
    """
    try:
        blob = hb.Blob.from_file_path(path)
    except (hb.HarfBuzzError, ValueError):
        return
    for number in range(hb.Face(blob).count):
        face = hb.Face(blob, number)
        names = frozenset(
            face.get_name(entry.name_id, entry.language) or ""
            for entry in face.list_names()
            if entry.name_id in FAMILY
        )
        style = hb.Font(face).get_style_value
        tags = hb.StyleTag
        unlike = abs(style(tags.WEIGHT) - 400) + abs(style(tags.WIDTH) - 100)
        slanted = abs(style(tags.SLANT_ANGLE)) + 100 * style(tags.ITALIC)
        yield FontFile(path, number), names, unlike + slanted


def _read(font: FontFile) -> None:
    """Raise what keeps a file from being read, which HarfBuzz does not tell."""
    try:
        Path(font.path).read_bytes()
    except OSError as error:
        raise MachineError.from_os(f"reading {font.path}", error) from None
    if font in STANDARD:  # they are whole: there was no memory for one
        raise MemoryError


def _unfit(font: FontFile, why: str) -> InputError:
    came, allowed = (
        f"no letters can be drawn with {font.path}: {why}",
        "a TrueType or OpenType font",
    )
    return InputError(Problem((), came, allowed, f"Name {allowed}."))


def _pen() -> Any:
    """What HarfBuzz calls to draw; it turns the quadratic curves of TrueType into cubic ones."""

    def move(x: float, y: float, to: Any) -> None:
        drawn, scale = to
        drawn.append(((x * scale, y * scale), []))

    def line(x: float, y: float, to: Any) -> None:
        drawn, scale = to
        drawn[-1][1].append(((x * scale, y * scale),))

    def curve(*numbers: Any) -> None:
        *xy, (drawn, scale) = numbers
        points = zip(xy[::2], xy[1::2], strict=True)
        drawn[-1][1].append(tuple((x * scale, y * scale) for x, y in points))

    pen = hb.DrawFuncs()
    pen.set_move_to_func(move)
    pen.set_line_to_func(line)
    pen.set_cubic_to_func(curve)
    return pen


_PEN = _pen()
