"""Small fonts made for the tests with fontTools, every letter a box."""

from pathlib import Path
from typing import Any

from support.reference import reference


def font_file(
    path: Path, letters: str, outlines: str = "glyf", *, family: str = "Boxes", side: int = 700
) -> Path:
    """A font whose letters are squares of `side` of 1000 units from the base line up."""
    made(letters, outlines, family, side).save(path)
    return path


def collection(path: Path, *families: tuple[str, str, int]) -> Path:
    """A collection of fonts, each given as letters, family and side."""
    found = reference("fontTools.ttLib.ttCollection").TTCollection()
    found.fonts = [made(letters, "glyf", family, side).font for letters, family, side in families]
    found.save(path)
    return path


def made(letters: str, outlines: str, family: str, side: int) -> Any:
    """The builder of a font; a letter that is not among them has nothing to show."""
    builder = reference("fontTools.fontBuilder").FontBuilder(1000, isTTF=outlines == "glyf")
    names = {letter: f"u{ord(letter):04X}" for letter in letters}
    builder.setupGlyphOrder([".notdef", *names.values()])
    builder.setupCharacterMap({ord(letter): name for letter, name in names.items()})
    drawn = {
        name: _box(outlines, side if name != ".notdef" else 0)
        for name in (".notdef", *names.values())
    }
    if outlines == "glyf":
        builder.setupGlyf(drawn)
    else:
        builder.setupCFF(family, {}, drawn, {})
    builder.setupHorizontalMetrics(dict.fromkeys(drawn, (1000, 0)))
    builder.setupHorizontalHeader(ascent=900, descent=-200)
    builder.setupNameTable({"familyName": family, "styleName": "Regular", "psName": family})
    builder.setupOS2()
    builder.setupPost()
    return builder


def _box(outlines: str, side: int) -> Any:
    if outlines == "glyf":
        pen = reference("fontTools.pens.ttGlyphPen").TTGlyphPen(None)
    else:
        pen = reference("fontTools.pens.t2CharStringPen").T2CharStringPen(1000, None)
    if side:
        pen.moveTo((0, 0))
        for corner in ((0, side), (side, side), (side, 0)):
            pen.lineTo(corner)
        pen.closePath()
    return pen.glyph() if outlines == "glyf" else pen.getCharString()
