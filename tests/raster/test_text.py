"""Labels: capitals are as tall as asked for, in any font, and missing letters are told."""

from io import BytesIO
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageFont
from support.planes import plane
from support.reference import reference

from guidekit.plane.box import Box
from guidekit.raster.text import Text, cover_text, missing_letters, text_width

CANVAS = Box(-20, -20, 1200, 400)
laws = settings(max_examples=60, deadline=None)
heights = st.integers(6, 240)
flat_capitals = st.text("EFHILTZ", min_size=1, max_size=4)  # no round letter, which is taller


@pytest.fixture(scope="session")
def font(tmp_path_factory: pytest.TempPathFactory) -> str:
    """A font of one letter: its H is a square of 700 in 1000 units."""
    return made(tmp_path_factory.mktemp("font") / "square.ttf", "H", 700)


def made(path: Path, letters: str, side: int) -> str:
    """Write a font with squares for letters, and nothing for what it does not have."""
    builder_of = reference("fontTools.fontBuilder").FontBuilder
    pen = reference("fontTools.pens.ttGlyphPen").TTGlyphPen(None)
    empty = pen.glyph()
    pen.moveTo((0, 0))
    for corner in ((0, side), (side, side), (side, 0)):
        pen.lineTo(corner)
    pen.closePath()
    square = pen.glyph()
    builder = builder_of(1000, isTTF=True)
    builder.setupGlyphOrder([".notdef", "square"])
    builder.setupCharacterMap({ord(letter): "square" for letter in letters})
    builder.setupGlyf({".notdef": empty, "square": square})
    builder.setupHorizontalMetrics({".notdef": (500, 0), "square": (1000, 0)})
    builder.setupHorizontalHeader(ascent=900, descent=-200)
    builder.setupNameTable({"familyName": "Square", "styleName": "Regular"})
    builder.setupOS2()
    builder.setupPost()
    builder.save(path)
    return str(path)


@given(flat_capitals, heights, st.integers(0, 90), st.integers(0, 90))
@laws
def test_capitals_have_their_height(word: str, height: int, x: int, y: int):
    """Capitals stand from `y` down to `y` plus their height, within a pixel at either end."""
    drawn = cover_text(Text(word, x, y, height), CANVAS)
    box = drawn.box
    assert abs(box.top - y) <= 1
    assert abs(box.bottom - (y + height)) <= 1
    assert box.left >= x
    assert box.right == x + text_width(word, height)


@given(heights)
@laws
def test_small_letters_hang_on_the_same_line(height: int):
    """Small letters stand lower than capitals, and a tail goes below the line they stand on."""
    capital, small, tail = (cover_text(Text(letter, 0, 0, height), CANVAS).box for letter in "Hxp")
    assert capital.top < small.top
    assert abs(small.bottom - capital.bottom) <= 1
    assert tail.bottom > capital.bottom


@given(st.integers(5, 200))
@laws
def test_own_font(font: str, height: int):
    """In another font the capitals are as tall: a square H is a square of that many pixels."""
    pixels = plane(cover_text(Text("H", 3, 7, height, font), CANVAS), CANVAS)
    full = pixels[27 : 27 + height, 23 : 23 + height]
    assert (full[1:-1, 1:-1] == 255).all()
    assert abs(int(pixels.sum()) / 255 - height**2) <= 2 * height + 1


@given(st.integers(-40, 40), st.integers(-40, 40))
@laws
def test_cut_at_the_canvas(x: int, y: int):
    """A label that reaches beyond the canvas is cut there, and what is inside stays the same."""
    small = Box(0, 0, 40, 25)
    text = Text("Salt", x, y, 20)
    whole = plane(cover_text(text, CANVAS), CANVAS)
    inside = plane(cover_text(text, small), small)
    assert (inside == whole[20 : 20 + small.height, 20 : 20 + small.width]).all()


def test_five_greys():
    """Letters have soft edges in no more than five values, so that palettes stay small."""
    values = np.unique(plane(cover_text(Text("Sage & Öl 1234", 0, 0, 60), CANVAS), CANVAS))
    assert set(values.tolist()) == {0, 63, 127, 191, 255}


def test_nothing_to_write():
    """A label of spaces draws nothing."""
    assert cover_text(Text("  ", 5, 5, 30), CANVAS).box.is_empty


@given(st.text(st.characters(min_codepoint=33, max_codepoint=0x2FFF), max_size=30))
@laws
def test_missing_letters(text: str):
    """Missing are just the letters that the font's own table (OpenType `cmap`) does not list."""
    face = ImageFont.load_default(32)
    data = face.font_bytes if hasattr(face, "font_bytes") else face.path.getvalue()
    known = reference("fontTools.ttLib").TTFont(BytesIO(data)).getBestCmap()
    text = "".join(c for c in text if not c.isspace() and c.isprintable())
    expected = [c for c in dict.fromkeys(text) if ord(c) not in known]
    assert missing_letters(text) == "".join(expected)


@pytest.mark.parametrize(
    ("text", "missing"),
    [("The Salt Road, no. 2", ""), ("Año Œuvre", "ñŒ"), ("塩の道 塩", "塩の道"), ("", "")],
)
def test_missing_in_the_built_in_font(text: str, missing: str):
    """The built-in font has the letters of English; others are told, each once."""
    assert missing_letters(text) == missing


def test_missing_in_an_own_font(font: str):
    """Letters that a font of the user's has no drawing for are told."""
    assert missing_letters("HAH!", font) == "A!"


def test_font_without_capitals(tmp_path: Path):
    """A font of another script, without an H to measure, still draws its letters."""
    font = made(tmp_path / "kana.ttf", "の", 700)
    drawn = cover_text(Text("の", 0, 0, 70, font), CANVAS)
    assert not drawn.box.is_empty
