"""Labels: capitals are as tall as asked for, in any font, and missing letters are told."""

import signal
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from support.fonts import font_file
from support.planes import plane
from support.reference import reference

from guidekit.plane.box import Box
from guidekit.raster import face
from guidekit.raster.font import STANDARD, FontFile
from guidekit.raster.text import Text, cover_text, text_width
from guidekit.raster.typeset import missing_letters

CANVAS = Box(-20, -20, 1200, 400)
heights = st.integers(6, 240)
flat_capitals = st.text("EFHILTZ", min_size=1, max_size=4)  # no round letter, which is taller


@pytest.fixture(scope="session")
def font(tmp_path_factory: pytest.TempPathFactory) -> FontFile:
    """A font of one letter: its H is a square of 700 in 1000 units."""
    return FontFile(str(font_file(tmp_path_factory.mktemp("font") / "square.ttf", "H")))


@given(flat_capitals, heights, st.integers(0, 90), st.integers(0, 90))
def test_capitals_have_their_height(word: str, height: int, x: int, y: int) -> None:
    """Capitals stand from `y` down to `y` plus their height, within a pixel at either end."""
    drawn = cover_text(Text(word, x, y, height), CANVAS)
    box = drawn.box
    assert abs(box.top - y) <= 1
    assert abs(box.bottom - (y + height)) <= 1
    arm = height / 20  # the arms of a T reach out a little
    assert box.left >= x - arm
    assert box.right <= x + text_width(word, height) + arm


@given(heights)
def test_small_letters_hang_on_the_same_line(height: int) -> None:
    """Small letters stand lower than capitals, and a tail goes below the line they stand on."""
    capital, small, tail = (cover_text(Text(letter, 0, 0, height), CANVAS).box for letter in "Hxp")
    assert capital.top < small.top
    assert abs(small.bottom - capital.bottom) <= 1
    assert tail.bottom > capital.bottom


@given(st.integers(5, 200))
def test_own_font(font: FontFile, height: int) -> None:
    """In another font the capitals are as tall: a square H is a square of that many pixels."""
    pixels = plane(cover_text(Text("H", 3, 7, height, font), CANVAS), CANVAS)
    full = pixels[27 : 27 + height, 23 : 23 + height]
    assert (full[1:-1, 1:-1] == 255).all()
    assert abs(int(pixels.sum()) / 255 - height**2) <= 2 * height + 1


@given(st.integers(-40, 40), st.integers(-40, 40))
def test_cut_at_the_canvas(x: int, y: int) -> None:
    """A label that reaches beyond the canvas is cut there, and what is inside stays the same."""
    small = Box(0, 0, 40, 25)
    text = Text("Salt", x, y, 20)
    whole = plane(cover_text(text, CANVAS), CANVAS)
    inside = plane(cover_text(text, small), small)
    assert (inside == whole[20 : 20 + small.height, 20 : 20 + small.width]).all()


def test_five_greys() -> None:
    """Letters have soft edges in no more than five values, so that palettes stay small."""
    values = np.unique(plane(cover_text(Text("Sage & Öl 1234", 0, 0, 60), CANVAS), CANVAS))
    assert set(values.tolist()) == {0, 63, 127, 191, 255}


def test_nothing_to_write() -> None:
    """A label of spaces draws nothing."""
    assert cover_text(Text("  ", 5, 5, 30), CANVAS).box.is_empty


@given(st.text(st.characters(min_codepoint=33, max_codepoint=0x2FFF), max_size=30))
def test_missing_letters(text: str) -> None:
    """Missing are just the letters that no font's own table (OpenType `cmap`) lists."""
    text = "".join(c for c in text if not c.isspace() and c.isprintable())
    known = cmap(STANDARD[0].path) | cmap(STANDARD[1].path)
    expected = [c for c in dict.fromkeys(text) if ord(c) not in known]
    assert missing_letters(text) == "".join(expected)


@cache
def cmap(path: str) -> frozenset[int]:
    """The code points that fontTools reads from a font."""
    return frozenset(reference("fontTools.ttLib").TTFont(path).getBestCmap())


@pytest.mark.parametrize(
    ("text", "missing"),
    [
        ("The Salt Road, no. 2", ""),
        ("Año Œuvre – ß € × ï", ""),
        ("塩の道 소금길", ""),
        ("เกลือ เก", "เกลือ"),
        ("", ""),
    ],
)
def test_missing_in_the_fonts_that_come_along(text: str, missing: str) -> None:
    """Letters that no font has are told, each once."""
    assert missing_letters(text) == missing


def test_font_without_capitals(tmp_path: Path) -> None:
    """A font of another script, without an H to measure, still draws its letters."""
    font = FontFile(str(font_file(tmp_path / "kana.ttf", "の")))
    drawn = cover_text(Text("の", 0, 0, 70, font), CANVAS)
    assert not drawn.box.is_empty


def test_a_letter_is_drawn_whole(interruptible: None, monkeypatch: pytest.MonkeyPatch) -> None:
    """A Ctrl-C while HarfBuzz calls for the parts of a letter comes when it has all of them."""
    parts: list[object] = []

    def line(*given: object) -> None:
        parts.append(given)
        if len(parts) == 1:
            signal.raise_signal(signal.SIGINT)

    pen = face._pen()
    pen.set_line_to_func(line)
    monkeypatch.setattr(face, "_PEN", pen)
    font = face.opened(STANDARD[0])
    glyph = font.hb_font.get_nominal_glyph(ord("E"))
    assert glyph
    with pytest.raises(KeyboardInterrupt):
        font.outlines(glyph)
    stopped, parts[1:] = len(parts), []
    font.outlines(glyph)
    assert stopped == len(parts) - 1 > 2
